#include "kinematics/head/stick_envelope.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace swashwright::head {

namespace {

constexpr double rounding = 0.0075;  // two sticks, each off by half a hundredth: 0.0071
constexpr double no_limit = 2;       // collective and cyclic both full

}  // namespace

double cyclic_out(CyclicStick shape, double aileron, double elevator) {
    return shape == CyclicStick::circle ? std::hypot(aileron, elevator)
                                        : std::max(std::abs(aileron), std::abs(elevator));
}

Sticks sticks_at(CyclicStick shape, double collective, double out, double direction_deg) {
    const double right = std::sin(direction_deg * degree), forward = std::cos(direction_deg * degree);
    const double far = shape == CyclicStick::circle ? out : out / cyclic_out(shape, right, forward);
    return {collective, far * right, far * forward};
}

double most_cyclic_out(const Mixing& mixing, double collective) {
    return std::min(1.0, mixing.combined_limit - std::abs(collective));
}

bool lets_through(const Mixing& mixing, const Sticks& sticks) {
    return std::abs(sticks.collective) <= 1 && cyclic_out(mixing.cyclic_stick, sticks.aileron, sticks.elevator) <=
                                                   most_cyclic_out(mixing, sticks.collective) + rounding;
}

Sticks held_back(const Mixing& mixing, const Sticks& sticks) {
    const double most_collective = std::min(1.0, mixing.combined_limit);
    Sticks out = sticks;
    out.collective = std::clamp(out.collective, -most_collective, most_collective);
    const double most = std::max(0.0, most_cyclic_out(mixing, out.collective));
    if (mixing.cyclic_stick == CyclicStick::square) {
        out.aileron = std::clamp(out.aileron, -most, most);
        out.elevator = std::clamp(out.elevator, -most, most);
    } else if (const double now = std::hypot(out.aileron, out.elevator); now > most) {
        out.aileron *= most / now;
        out.elevator *= most / now;
    }
    return out;
}

bool same_envelope(const Mixing& a, const Mixing& b) {
    const auto limit = [](const Mixing& mixing) { return std::min(mixing.combined_limit, no_limit); };
    return a.cyclic_stick == b.cyclic_stick && std::abs(limit(a) - limit(b)) < 1e-9;  // what a file leaves
}

double most_command_deg(const Mixing& mixing, const StickGains& gains_deg) {
    const double collective = std::abs(gains_deg[0]);
    const double cyclic = mixing.cyclic_stick == CyclicStick::circle ? std::hypot(gains_deg[1], gains_deg[2])
                                                                     : std::abs(gains_deg[1]) + std::abs(gains_deg[2]);
    // The command is linear in the sticks, so what the combined limit leaves goes to the greater of the two first.
    const double first = std::min(1.0, mixing.combined_limit), second = std::min(1.0, mixing.combined_limit - first);
    return first * std::max(collective, cyclic) + second * std::min(collective, cyclic) + std::abs(gains_deg[3]);
}

const char* word(CyclicStick shape) {
    return shape == CyclicStick::circle ? "circle" : "square";
}

std::string envelope_words(const Mixing& mixing) {
    std::string out = fmt::format("the cyclic stick in a {}", word(mixing.cyclic_stick));
    if (mixing.combined_limit < no_limit) out += fmt::format(" (with collective at most {:g})", mixing.combined_limit);
    return out;
}

}  // namespace swashwright::head
