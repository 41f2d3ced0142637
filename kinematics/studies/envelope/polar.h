// A place in polar form, as the envelope's map has it.
#pragma once

#include <cmath>
#include <vector>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/envelope/envelope.h"

namespace swashwright::studies {

/// How far out the cyclic stick gets at a collective; a tail has none.
inline double most_out(const Envelope& of, double collective) {
    return of.kind == head::Kind::tail ? 0 : head::most_cyclic_out(of.mixing, collective);
}

/// Collective (of a tail the rudder), how far out and in which direction the cyclic stick is, azimuth, hands. Direction
/// 0 is elevator forward, growing towards aileron right.
struct Point {
    double collective = 0, cyclic = 0, direction_deg = 0, azimuth_deg = 0;
    std::vector<double> hand_deg = {};

    Place place(const Envelope& in) const {
        if (in.kind == head::Kind::tail) return {{.rudder = collective}, azimuth_deg, hand_deg};
        return {head::sticks_at(in.mixing.cyclic_stick, collective, cyclic, direction_deg), azimuth_deg, hand_deg};
    }
};

inline Point point_of(const Place& p, const Envelope& in) {
    if (in.kind == head::Kind::tail) return {p.sticks.rudder, 0, 0, p.azimuth_deg, p.hand_deg};
    return {p.sticks.collective, head::cyclic_out(in.mixing.cyclic_stick, p.sticks.aileron, p.sticks.elevator),
            std::atan2(p.sticks.aileron, p.sticks.elevator) / degree, p.azimuth_deg, p.hand_deg};
}

}  // namespace swashwright::studies
