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

/// A link goes back by its error, a horn, guide or collar to where it belongs; what is bent or worn is replaced, with
/// the bolts that hold it, and no link is set to hide it. Common practice, no source; the maker's manual comes first.
Correction correction(const Fault& fault, double size, const head::Head& head);

}  // namespace swashwright::studies
