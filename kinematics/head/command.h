// What the mixer asks of a servo, from a description alone.
#pragma once

#include <array>
#include <cstddef>

#include "kinematics/head/head.h"

namespace swashwright::head {

/// Of one servo: all that its horn angle depends on besides the sticks.
struct Command {
    double rest_deg = 0;                    // neutral and trim
    StickGains gains_deg{};                 // per full stick, in the horn angle's own sense
    double raise = 1;                       // the sense in which the horn raises its ball
    std::array<double, 2> end_share{1, 1};  // `Servo::end_share`

    double horn_deg(const Sticks& sticks) const;  // never clipped to travel
};

Command command_of(const Description& description, std::size_t servo, double raise);

/// As `end_share` of a servo in build.h.
double end_share(const std::array<double, 2>& shares, double command_deg);

}  // namespace swashwright::head
