// Where the sticks of a main rotor or of a tail stand, in words.
#pragma once

#include <fmt/format.h>

#include <string>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "kinematics/studies/answer/figures.h"

namespace swashwright::studies {

/// "collective +0.50, aileron 0.00, elevator 0.00"; of a tail "rudder -1.00".
inline std::string stick_words(head::Kind kind, const head::Sticks& sticks) {
    if (kind == head::Kind::tail) return "rudder " + signed_figure(sticks.rudder, 2);
    return fmt::format("collective {}, aileron {}, elevator {}", signed_figure(sticks.collective, 2),
                       signed_figure(sticks.aileron, 2), signed_figure(sticks.elevator, 2));
}

}  // namespace swashwright::studies
