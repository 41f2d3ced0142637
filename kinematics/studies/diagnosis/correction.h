// What to do about a part that is wrong.
#pragma once

#include <optional>
#include <string>

#include "kinematics/head/head.h"
#include "kinematics/studies/diagnosis/faults.h"

namespace swashwright::studies {

/// What to do about a fault of a size.
struct Correction {
    std::string part;                        // scene path of what is to be set
    std::string words;                       // "shorten upper link 2 by 3 half turns"
    std::optional<double> change_mm, turns;  // of a link: longer positive; turns of its turnbuckle or of one end
};

/// A link goes back by its error. A pitch arm or blade that is off is best replaced; its change is what its upper link
/// would have to take to hide it at mid stick.
Correction correction(const Fault& fault, double size, const head::Head& head);

}  // namespace swashwright::studies
