// In what steps can a link's length be set by hand?
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <string_view>

#include "kinematics/head/numbers.h"

namespace swashwright::studies {

/// A turnbuckle is set by the flats of its hexagon, a sixth of a turn each; a plain rod by half turns of one end, or by
/// whole turns where the end presses on from one side only.
struct LinkStep {
    double mm = 0;     // length for each step
    double turns = 0;  // of the turnbuckle or of the end
    const char* one = "";
    const char* many = "";
};

/// Half a turn of a turnbuckle's body, or of one end of a plain rod, in mm of length.
inline double half_turn_mm(const head::Link& link) {
    return link.rod == head::Rod::turnbuckle ? link.thread_pitch_mm : link.thread_pitch_mm / 2;
}

/// A turnbuckle's body leaves its ends as they are, an end on a plain rod is turned over: no half turns where it
/// presses on from one side only.
inline bool takes_half_turns(const head::Link& link) {
    return link.rod == head::Rod::turnbuckle || link.end_faces == head::EndFaces::either;
}

inline LinkStep link_step(const head::Link& link) {
    if (link.rod == head::Rod::turnbuckle) return {half_turn_mm(link) / 3, 1.0 / 6, "flat", "flats"};
    if (!takes_half_turns(link)) return {link.thread_pitch_mm, 1, "whole turn", "whole turns"};
    return {half_turn_mm(link), 0.5, "half turn", "half turns"};
}

/// Turns that change the length by so much.
inline double turns_for(const head::Link& link, double change_mm) {
    const LinkStep step = link_step(link);
    return change_mm / step.mm * step.turns;
}

/// "half a turn", "one flat", "3 half turns", whichever way.
inline std::string by_steps(int steps, std::string_view one, std::string_view many) {
    if (std::abs(steps) != 1) return fmt::format("{} {}", std::abs(steps), many);
    return one == "half turn" ? "half a turn" : fmt::format("one {}", one);
}

/// "3 half turns longer", "half a turn shorter"; "as it is" for none.
inline std::string steps_in_words(int steps, std::string_view one, std::string_view many) {
    if (steps == 0) return "as it is";
    return by_steps(steps, one, many) + (steps > 0 ? " longer" : " shorter");
}

inline std::string by_steps(const head::Link& link, int steps) {
    const LinkStep step = link_step(link);
    return by_steps(steps, step.one, step.many);
}

inline std::string steps_in_words(const head::Link& link, int steps) {
    const LinkStep step = link_step(link);
    return steps_in_words(steps, step.one, step.many);
}

}  // namespace swashwright::studies
