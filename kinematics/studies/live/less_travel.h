// Where the sticks ask for more than the linkage can do: how far may they go?
#pragma once

#include <optional>

#include "kinematics/head/head.h"

namespace swashwright::studies {

/// All round the turn every loop closes and no part comes so near to a dead point that links lose their hold
/// (`dead_point_checker`'s bound); looked at 5 deg apart.
bool holds_all_round(const head::Head& head, const head::Sticks& sticks);

/// Of sticks at which it does not hold: the largest share of them, in hundredths, at which it does, on the straight way
/// from centred sticks; none if it does not even there.
std::optional<double> sound_share(const head::Head& head, const head::Sticks& sticks);

}  // namespace swashwright::studies
