// A head with its hands where they are, for what is asked over a whole turn of sticks or rotor.
#pragma once

#include <optional>
#include <span>

#include "kinematics/head/head.h"

namespace swashwright::head {

/// The head with these angles (deg, in the order of `Parts::hands`) for the neutral ones of what a hand moves; none if
/// no head comes of it.
std::optional<Head> with_hands(const Head& head, std::span<const double> hand_deg);

}  // namespace swashwright::head
