// The stick that moves all blades together: a main rotor's collective, a tail's rudder.
#pragma once

#include "kinematics/head/solver.h"

namespace swashwright::studies {

inline bool is_tail(const head::Description& description) {
    return description.kind == head::Kind::tail;
}

/// That stick at a position, the others centred.
inline head::Sticks main_stick_at(const head::Description& description, double position) {
    head::Sticks out;
    (is_tail(description) ? out.rudder : out.collective) = position;
    return out;
}

inline head::Solver::Stick main_stick(const head::Description& description) {
    return is_tail(description) ? head::Solver::Stick::rudder : head::Solver::Stick::collective;
}

/// "collective" or "rudder".
inline const char* main_stick_word(const head::Description& description) {
    return is_tail(description) ? "rudder" : "collective";
}

/// "mid stick" or "centred rudder".
inline const char* mid_stick_words(const head::Description& description) {
    return is_tail(description) ? "centred rudder" : "mid stick";
}

}  // namespace swashwright::studies
