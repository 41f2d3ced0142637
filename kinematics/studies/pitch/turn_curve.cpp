#include "kinematics/studies/pitch/turn_curve.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

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

}  // namespace

head::Result<TurnCurve> turn_curve(const head::Head& head, const head::Sticks& sticks, int samples) {
    const int blades = std::max(1, head.description().rotor.blades);
    const int per_blade = std::max(1, (samples + blades - 1) / blades);
    const int count = per_blade * blades;

    TurnCurve curve;
    curve.azimuth_deg.reserve(count);
    curve.blades.resize(blades);
    for (BladeTurn& blade : curve.blades) blade.pitch_deg.reserve(count);
    head::Solver solver(head);
    for (int i = 0; i < count; ++i) {
        const double azimuth_deg = 360.0 * i / count;
        curve.azimuth_deg.push_back(azimuth_deg);
        if (solver.pose(sticks, azimuth_deg)) {
            for (int k = 0; k < blades; ++k) curve.blades[k].pitch_deg.push_back(solver.pitch_deg(k));
            continue;
        }
        head::Result<head::Pose> pose = head.pose(sticks, azimuth_deg);  // by its own way, or it says why not
        if (!pose) {
            pose.error().message = fmt::format("at rotor azimuth {:.0f} deg: {}", azimuth_deg, pose.error().message);
            return tl::unexpected(std::move(pose.error()));
        }
        for (int k = 0; k < blades; ++k) curve.blades[k].pitch_deg.push_back(pose->pitch_deg[k]);
    }
    summarise(curve);
    return curve;
}

}  // namespace swashwright::studies
