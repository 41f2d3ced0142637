#include "kinematics/studies/pitch/harmonics.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/studies/pitch/turn_curve.h"

namespace swashwright::studies {

double Harmonic::amplitude() const {
    return std::hypot(cosine, sine);
}

double Harmonic::azimuth_of_most_deg(int order) const {
    if (cosine == 0 && sine == 0) return 0;
    const double phase = std::atan2(sine, cosine) / degree;
    const double turn = phase < 0 ? phase + 360.0 : phase;
    return turn >= 360.0 ? 0.0 : turn / order;
}

Harmonics harmonics(std::span<const double> samples, double from_deg) {
    Harmonics out;
    const double count = static_cast<double>(samples.size());
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const double azimuth = from_deg * degree + 2 * pi * static_cast<double>(i) / count;
        out.mean += samples[i] / count;
        for (int order = 1; order <= 3; ++order) {
            out.of[order - 1].cosine += 2 * samples[i] * std::cos(order * azimuth) / count;
            out.of[order - 1].sine += 2 * samples[i] * std::sin(order * azimuth) / count;
        }
    }
    return out;
}

head::Result<std::vector<Harmonics>> pitch_harmonics(const head::Head& head, const head::Sticks& sticks) {
    const auto curve = turn_curve(head, sticks, turn_samples);
    if (!curve) return tl::unexpected(curve.error());
    std::vector<Harmonics> out;
    for (std::size_t k = 0; k < curve->blades.size(); ++k)
        out.push_back(harmonics(curve->blades[k].pitch_deg, blade_azimuth_deg(0, k, curve->blades.size())));
    return out;
}

head::Result<std::vector<Harmonics>> harmonic_slopes(const head::Head& head, const head::Sticks& sticks,
                                                     const std::function<void(head::Solver&, head::Slopes&)>& slopes) {
    const auto blades = static_cast<std::size_t>(head.description().rotor.blades);
    std::vector<std::vector<double>> samples(blades);
    head::Solver solver(head);
    head::Slopes at;
    for (int i = 0; i < turn_samples; ++i) {
        const double azimuth_deg = 360.0 * i / turn_samples;
        if (!solver.pose(sticks, azimuth_deg) || !solver.linearise())
            return tl::unexpected(head::Failure{
                fmt::format("at rotor azimuth {:.0f} deg the linkage does not close or stands at a dead point",
                            azimuth_deg),
                {}});
        slopes(solver, at);
        for (std::size_t k = 0; k < blades; ++k) samples[k].push_back(at.pitch_deg[k]);
    }
    std::vector<Harmonics> out;
    for (std::size_t k = 0; k < blades; ++k) out.push_back(harmonics(samples[k], blade_azimuth_deg(0, k, blades)));
    return out;
}

Harmonic difference(const Harmonic& with, const Harmonic& without) {
    return {with.cosine - without.cosine, with.sine - without.sine};
}

double swing_added(const std::vector<Harmonics>& with, const std::vector<Harmonics>& without) {
    double sum = 0;
    for (std::size_t k = 0; k < with.size(); ++k) sum += difference(with[k].first(), without[k].first()).amplitude();
    return sum / static_cast<double>(with.size());
}

double amplitude_slope(const Harmonic& at, const Harmonic& slope) {
    const double amplitude = at.amplitude();
    return amplitude > 0 ? (at.cosine * slope.cosine + at.sine * slope.sine) / amplitude : slope.amplitude();
}

double azimuth_slope_deg(const Harmonic& at, const Harmonic& slope) {
    const double square = at.cosine * at.cosine + at.sine * at.sine;
    return square > 0 ? (at.cosine * slope.sine - at.sine * slope.cosine) / square / degree : 0;
}

double within_half_turn(double angle_deg) {
    const double angle = std::remainder(angle_deg, 360.0);
    return angle == -180.0 ? 180.0 : angle;
}

double position_deg(const head::Description& description, double blade_azimuth_deg) {
    return within_half_turn(180.0 + spin_sign(description.rotor.direction) * blade_azimuth_deg);
}

}  // namespace swashwright::studies
