// Which length would make a loop close that does not close at mid stick? Not the least change that just reaches, which
// ends at a dead point, but the length with which the head stands as it is meant to; tried on the head before it is
// advised.
#pragma once

#include <optional>
#include <string>

#include "kinematics/head/head.h"

namespace swashwright::studies {

struct LinkAdvice {
    bool upper = false;
    int index = 0;                 // of the link, from 0
    double length_mm = 0;          // between ball centres, to 0.01 mm
    double change_mm = 0;          // longer positive
    head::Pose neutral;            // of the head with that length, sticks centred
    std::optional<double> rod_mm;  // to cut, where turning the ends of the present rod cannot give so much
};

/// Looks at the links that `failure` names first, then at all others. A lower link is fitted to the level ring that the
/// others hold, an upper link to the pitch that the other blades take at mid stick (zero if none can be told). None
/// unless the head then closes through a whole turn at mid stick, nowhere near a dead point, with the ring and that
/// blade where they were meant to be. For a head that does not hold with
/// sticks centred: what only full sticks open wants less travel, not another length.
std::optional<LinkAdvice> link_advice(const head::Head& head, const head::Failure& failure);

/// "Make it 61.00 mm, 41.00 mm longer: blade 1 then takes 0.00 deg of pitch at mid stick."
std::string advice_words(const LinkAdvice& advice, const head::Failure& failure);

}  // namespace swashwright::studies
