// A random head with one hidden fault, and readings of it as a bench would give them. All invented; the same seed gives
// the same case on every machine.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <vector>

#include "kinematics/studies/diagnosis/readings.h"
#include "tests/support/random_head.h"

namespace swashwright::testing {

inline double normal(Draw& draw) {  // Box and Muller
    const double r = std::sqrt(-2 * std::log(1 - draw.between(0, 1)));
    return r * std::cos(2 * std::numbers::pi * draw.between(0, 1));
}

inline studies::PitchReading random_reading(Draw& draw, int blades) {
    studies::PitchReading r;
    r.blade = draw.whole(0, blades - 1);
    r.sticks.collective = draw.whole(-1, 1);
    if (draw.chance(0.5)) (draw.chance(0.5) ? r.sticks.aileron : r.sticks.elevator) = draw.chance(0.5) ? 1 : -1;
    r.azimuth_deg = 30 * draw.whole(0, 11);
    return r;
}

struct HiddenFault {
    head::Description sound;  // as the builder believes it to be
    std::vector<studies::Fault> suspects;
    int fault = -1;  // which of them is there; -1: none
    double size = 0;
    studies::Readings noise_free, readings;
};

/// Pitch of `description` at every reading, degrees; none where it cannot take one of the poses.
inline std::optional<Eigen::VectorXd> pitches(const head::Description& description, const studies::Readings& at) {
    const auto head = head::Head::build(description);
    if (!head || head->neutral_failure()) return std::nullopt;
    const auto expected = studies::expected(*head, at, {});
    if (!expected) return std::nullopt;
    return expected->value * at.pitch.front().uncertainty_deg;
}

/// A size of the fault, of either sign, whose largest effect over the readings is `effect_deg`; for a fault without
/// size, 0 if its effect is within 0.3 to 1.5 deg. None if there is no such size of a believable magnitude.
inline std::optional<double> size_for(Draw& draw, const HiddenFault& c, const studies::Fault& fault,
                                      double effect_deg) {
    const auto sound = pitches(c.sound, c.noise_free);
    if (!sound) return std::nullopt;
    const auto effect = [&](double size) -> std::optional<double> {
        head::Description faulty = c.sound;
        studies::apply(fault, size, faulty);
        const auto with = pitches(faulty, c.noise_free);
        if (!with) return std::nullopt;
        return (*with - *sound).cwiseAbs().maxCoeff();
    };
    if (!fault.sized()) {
        const auto e = effect(0);
        return e && *e >= 0.3 && *e <= 1.5 ? std::optional<double>(0) : std::nullopt;
    }
    double size = 0.1 * fault.usual_size() * (draw.chance(0.5) ? 1 : -1);
    for (int i = 0; i < 20; ++i) {
        const auto e = effect(size);
        if (!e || *e < 1e-6) return std::nullopt;
        if (std::abs(*e - effect_deg) < 1e-3)
            return std::abs(size) <= 3 * fault.usual_size() ? std::optional(size) : std::nullopt;
        size *= std::clamp(effect_deg / *e, 0.2, 5.0);
    }
    return std::nullopt;
}

/// Adds noise of the stated uncertainty to what the head with the fault shows.
inline bool read_out(Draw& draw, HiddenFault& c) {
    head::Description faulty = c.sound;
    if (c.fault >= 0) studies::apply(c.suspects[static_cast<std::size_t>(c.fault)], c.size, faulty);
    const auto truth = pitches(faulty, c.noise_free);
    if (!truth) return false;
    c.readings = c.noise_free;
    for (std::size_t i = 0; i < c.readings.pitch.size(); ++i) {
        c.noise_free.pitch[i].reading_deg = (*truth)[static_cast<Eigen::Index>(i)];
        c.readings.pitch[i].reading_deg =
            c.noise_free.pitch[i].reading_deg + c.readings.pitch[i].uncertainty_deg * normal(draw);
    }
    return true;
}

/// Draws until it fits: a head, `count` random readings, a fault of a random kind whose largest effect over the
/// readings is 0.3 to 1.5 deg (or none at all), noise of 0.1 deg, a gauge whose zero was checked.
inline HiddenFault hidden_fault(Draw& draw, std::mt19937_64& bits, const std::vector<studies::FaultKind>& kinds,
                                int count, bool nothing_wrong = false) {
    for (;;) {
        HiddenFault c;
        c.sound = random_head(bits);
        c.suspects = studies::faults(c.sound, kinds);
        c.noise_free.gauge.zero_within_deg = 0;
        for (int i = 0; i < count; ++i) c.noise_free.pitch.push_back(random_reading(draw, c.sound.rotor.blades));
        if (!nothing_wrong) {
            const auto kind = kinds[static_cast<std::size_t>(draw.whole(0, static_cast<int>(kinds.size()) - 1))];
            std::vector<int> of_kind;
            for (std::size_t f = 0; f < c.suspects.size(); ++f)
                if (c.suspects[f].kind == kind) of_kind.push_back(static_cast<int>(f));
            if (of_kind.empty()) continue;
            c.fault = of_kind[static_cast<std::size_t>(draw.whole(0, static_cast<int>(of_kind.size()) - 1))];
            const auto size = size_for(draw, c, c.suspects[static_cast<std::size_t>(c.fault)], draw.between(0.3, 1.5));
            if (!size) continue;
            c.size = *size;
        }
        if (read_out(draw, c)) return c;
    }
}

}  // namespace swashwright::testing
