// Readings as a bench gives them: a gauge whose zero is off, a shaft that leans, noise. All invented; the same seed
// gives the same case on every machine.
#pragma once

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <cmath>
#include <string>

#include "tests/support/hidden_fault.h"

namespace swashwright::testing {

inline constexpr double noise_deg = 0.1;

struct Bench {
    head::Description sound, real;  // as the builder believes it to be, and as it is
    std::string wrong;              // scene path of the part that is wrong
    studies::Readings readings;
    double zero_deg = 0, lean_forward_deg = 0, lean_right_deg = 0;

    /// A blade's chord against the level, as seen along its axis, with the whole model turned about the nose by the
    /// lean to the right and about the left by the lean forward.
    double shown(double azimuth_deg, int blade, double pitch_deg) const {
        const double s = head::spin_sign(real.rotor.direction);
        const double a = pi + s * (azimuth_deg * degree + 2 * pi * blade / real.rotor.blades);
        const Vec3 out(std::cos(a), std::sin(a), 0), ahead = s * Vec3::UnitZ().cross(out);
        const Vec3 chord = std::cos(pitch_deg * degree) * ahead + std::sin(pitch_deg * degree) * Vec3::UnitZ();
        const Vec3 lean = Vec3(lean_right_deg, lean_forward_deg, 0) * degree;
        const Eigen::AngleAxisd turn(lean.norm(), lean.norm() > 0 ? Vec3(lean.normalized()) : Vec3::UnitX());
        const Vec3 axis = turn * out, level = s * Vec3::UnitZ().cross(axis).normalized();
        return std::atan2((turn * chord).dot(s * axis.cross(level)), (turn * chord).dot(level)) / degree;
    }

    /// What the gauge reads there; false where the head cannot take the pose.
    bool read(Draw& draw, studies::PitchReading& at) const {
        const auto head = head::Head::build(real);
        if (!head || head->neutral_failure()) return false;
        const auto pose = head->pose(at.sticks, at.azimuth_deg);
        if (!pose) return false;
        at.reading_deg = shown(at.azimuth_deg, at.blade, pose->pitch_deg[static_cast<std::size_t>(at.blade)]) +
                         zero_deg + noise_deg * normal(draw);
        return true;
    }
};

/// A lower or an upper link that is off by 0.3 to 1 mm.
inline void put_a_link_wrong(Draw& draw, Bench& bench) {
    const double size = draw.between(0.3, 1.0) * (draw.chance(0.5) ? 1 : -1);
    const bool lower = draw.chance(0.5);
    auto& links = lower ? bench.real.lower_links : bench.real.upper_links;
    const int i = draw.whole(0, static_cast<int>(links.size()) - 1);
    links[static_cast<std::size_t>(i)].error_mm += size;
    bench.wrong = fmt::format("{}[{}]", lower ? "lower_link" : "upper_link", i + 1);
}

/// A random head, made wrong by `make`, each blade in its turn at a random place; draws until every place can be read.
template <class Make>
Bench bench(Draw& draw, std::mt19937_64& bits, int count, const Make& make) {
    for (;;) {
        Bench out;
        out.sound = out.real = random_head(bits);
        make(out);
        bool all = true;
        for (int i = 0; i < count && all; ++i) {
            out.readings.pitch.push_back(random_reading(draw, out.sound.rotor.blades));
            out.readings.pitch.back().blade = i % out.sound.rotor.blades;
            all = out.read(draw, out.readings.pitch.back());
        }
        if (all) return out;
    }
}

}  // namespace swashwright::testing
