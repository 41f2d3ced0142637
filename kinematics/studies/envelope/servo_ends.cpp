#include "kinematics/studies/envelope/servo_ends.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/stick_envelope.h"

namespace swashwright::studies {

std::vector<head::Sticks> servo_ends(const head::Head& head, int servo) {
    if (head.description().kind == head::Kind::tail) return {{.rudder = 1}, {.rudder = -1}};
    const head::Mixing& mixing = head.description().mixing;
    const auto& gain = head.stick_gains_deg(servo);
    const double circle = std::hypot(gain[1], gain[2]);
    const bool square = mixing.cyclic_stick == head::CyclicStick::square;
    std::array<double, 2> way{square ? std::copysign(1.0, gain[1]) : 0, square ? std::copysign(1.0, gain[2]) : 1};
    if (!square && circle > 0) way = {gain[1] / circle, gain[2] / circle};
    std::vector<head::Sticks> out;
    const double most = std::min(1.0, mixing.combined_limit), kink = std::clamp(mixing.combined_limit - 1, 0.0, most);
    for (const double collective : {-most, -kink, 0.0, kink, most})
        for (const double sense : {-1.0, 1.0}) {
            const double far = sense * std::max(0.0, head::most_cyclic_out(mixing, collective));
            out.push_back({collective, far * way[0], far * way[1]});
        }
    return out;
}

std::optional<Extreme> proved_worst(const head::Head& head, Probe& probe, std::size_t check,
                                    const std::vector<double>& hand_deg) {
    std::optional<Extreme> out;
    for (const head::Sticks& sticks : servo_ends(head, probe.only_servo(check))) {
        const Place place{sticks, 0, hand_deg};
        probe.reset();
        if (!probe.go(place)) return std::nullopt;
        const auto value = probe.value(check);
        if (!value) return std::nullopt;
        const double margin = probe.check(check).margin(*value);
        if (!out || margin < out->margin) out = Extreme{*value, margin, place, 0};
    }
    return out;
}

}  // namespace swashwright::studies
