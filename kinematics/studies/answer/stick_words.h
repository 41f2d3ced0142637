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

/// "full collective, full right aileron", what is centred left out beside the collective; of a tail "full left rudder".
inline std::string short_stick_words(head::Kind kind, const head::Sticks& s) {
    const auto one = [](const char* name, double value, const char* low, const char* middle, const char* high) {
        const char* end = value == -1 ? low : value == 0 ? middle : value == 1 ? high : nullptr;
        return end ? std::string(end) : fmt::format("{} {}", name, signed_figure(value, 2));
    };
    if (kind == head::Kind::tail)
        return one("rudder", s.rudder, "full left rudder", "rudder centred", "full right rudder");
    std::string out = one("collective", s.collective, "low collective", "mid collective", "full collective");
    if (s.aileron != 0) out += ", " + one("aileron", s.aileron, "full left aileron", "", "full right aileron");
    if (s.elevator != 0) out += ", " + one("elevator", s.elevator, "full back elevator", "", "full forward elevator");
    return out;
}

}  // namespace swashwright::studies
