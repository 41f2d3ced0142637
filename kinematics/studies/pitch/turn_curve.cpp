#include "kinematics/studies/pitch/turn_curve.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <span>

#include "kinematics/head/lane_solver.h"
#include "kinematics/head/solver.h"

namespace swashwright::studies {

namespace {

void summarise(TurnCurve& curve) {
    for (BladeTurn& blade : curve.blades) {
        const auto [least, most] = std::minmax_element(blade.pitch_deg.begin(), blade.pitch_deg.end());
        blade.least_deg = *least;
        blade.most_deg = *most;
        blade.mean_deg = std::accumulate(blade.pitch_deg.begin(), blade.pitch_deg.end(), 0.0) /
                         static_cast<double>(blade.pitch_deg.size());
    }
    const auto [low, high] =
        std::minmax_element(curve.blades.begin(), curve.blades.end(),
                            [](const BladeTurn& a, const BladeTurn& b) { return a.mean_deg < b.mean_deg; });
    curve.lowest_blade = static_cast<std::size_t>(low - curve.blades.begin());
    curve.highest_blade = static_cast<std::size_t>(high - curve.blades.begin());
}

/// By its own way from neutral, or it says why not.
head::Result<head::Pose> alone(const head::Head& head, const head::Sticks& sticks, double azimuth_deg) {
    head::Result<head::Pose> pose = head.pose(sticks, azimuth_deg);
    if (!pose) pose.error().message = fmt::format("at rotor azimuth {:.0f} deg: {}", azimuth_deg, pose.error().message);
    return pose;
}

/// Every blade's pitch at every azimuth of the curve, eight azimuths at once.
head::Result<bool> pitches(head::LaneSolver& solver, const head::Sticks& sticks, TurnCurve& curve) {
    const std::span<const double> azimuths(curve.azimuth_deg);
    for (std::size_t first = 0; first < azimuths.size(); first += head::lanes) {
        const auto at = azimuths.subspan(first, std::min<std::size_t>(head::lanes, azimuths.size() - first));
        const head::LaneSet closed = solver.pose(sticks, at);
        for (std::size_t k = 0; k < curve.blades.size(); ++k) {
            const head::LaneValues pitch_deg = solver.pitch_deg(static_cast<int>(k));
            curve.blades[k].pitch_deg.insert(curve.blades[k].pitch_deg.end(), pitch_deg.of.begin(),
                                             pitch_deg.of.begin() + std::ssize(at));
        }
        for (std::size_t i = 0; i < at.size(); ++i) {
            if (closed >> i & 1U) continue;
            const auto pose = alone(solver.head(), sticks, at[i]);
            if (!pose) return tl::unexpected(pose.error());
            for (std::size_t k = 0; k < curve.blades.size(); ++k)
                curve.blades[k].pitch_deg[first + i] = pose->pitch_deg[k];
        }
    }
    return true;
}

/// One azimuth after the other.
head::Result<bool> pitches(head::Solver& solver, const head::Sticks& sticks, TurnCurve& curve) {
    for (const double azimuth_deg : curve.azimuth_deg) {
        if (solver.pose(sticks, azimuth_deg)) {
            for (std::size_t k = 0; k < curve.blades.size(); ++k)
                curve.blades[k].pitch_deg.push_back(solver.pitch_deg(static_cast<int>(k)));
            continue;
        }
        const auto pose = alone(solver.head(), sticks, azimuth_deg);
        if (!pose) return tl::unexpected(pose.error());
        for (std::size_t k = 0; k < curve.blades.size(); ++k) curve.blades[k].pitch_deg.push_back(pose->pitch_deg[k]);
    }
    return true;
}

constexpr std::size_t worth_lanes = 48;  // samples: below it making the lanes ready takes longer than they save

head::Result<bool> pitches(const head::Head& head, const head::Sticks& sticks, TurnCurve& curve) {
    if (curve.azimuth_deg.size() >= worth_lanes)
        if (auto eight = head::LaneSolver::make(head)) return pitches(*eight, sticks, curve);
    head::Solver solver(head);
    return pitches(solver, sticks, curve);
}

}  // namespace

head::Result<TurnCurve> turn_curve(const head::Head& head, const head::Sticks& sticks, int samples) {
    const int blades = std::max(1, head.description().rotor.blades);
    const int per_blade = std::max(1, (samples + blades - 1) / blades);
    const int count = per_blade * blades;

    TurnCurve curve;
    curve.azimuth_deg.reserve(count);
    for (int i = 0; i < count; ++i) curve.azimuth_deg.push_back(360.0 * i / count);
    curve.blades.resize(blades);
    for (BladeTurn& blade : curve.blades) blade.pitch_deg.reserve(count);
    if (auto done = pitches(head, sticks, curve); !done) return tl::unexpected(std::move(done.error()));
    summarise(curve);
    return curve;
}

}  // namespace swashwright::studies
