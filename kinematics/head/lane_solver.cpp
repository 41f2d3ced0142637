#include "kinematics/head/lane_solver.h"

#include <algorithm>

#include "kinematics/head/build.h"
#include "kinematics/head/numbers.h"

namespace swashwright::head {

namespace {

LaneValues in_degrees(const LaneValues& angles) {
    LaneValues out;
    for (int lane = 0; lane < lanes; ++lane) out[lane] = angles[lane] / degree;
    return out;
}

}  // namespace

LaneReadings::LaneReadings(const Head& head, linkage::LanePlan plan, const linkage::LaneKernel& kernel)
    : head_(head), plan_(std::move(plan)), ws_(head.plan(), plan_, kernel) {
    for (const Grip& grip : head.description().grips) pitch_offset_deg_.emplace_back().of.fill(grip.pitch_offset_deg);
}

LaneValues LaneReadings::height_mm() const {
    return linkage::lane_slides(plan_, ws_, head_.parts().inner_ring);
}

std::array<LaneValues, 3> LaneReadings::ring_normal() const {
    return linkage::lane_axes(plan_, ws_, head_.parts().inner_ring, 2);
}

const LaneReadings::Tilt& LaneReadings::tilt() const {
    auto n = ring_normal();
    if (n == tilt_.normal) return tilt_;
    tilt_.normal = n;
    for (double& y : n[1].of) y = -y;
    tilt_.forward_deg = in_degrees(linkage::lane_angles(ws_, n[2], n[0]));
    tilt_.right_deg = in_degrees(linkage::lane_angles(ws_, n[2], n[1]));
    return tilt_;
}

LaneValues LaneReadings::pitch_deg(int blade) const {
    const auto k = static_cast<std::size_t>(blade);
    LaneValues out = linkage::lane_angles(plan_, ws_, head_.parts().grips[k]);
    for (int lane = 0; lane < lanes; ++lane) out[lane] = out[lane] / degree + pitch_offset_deg_[k][lane];
    return out;
}

LaneValues LaneReadings::residual_mm() const {
    return linkage::lane_residuals(plan_, ws_);
}

Placement LaneReadings::placement(linkage::BodyId body, int lane) {
    linkage::settle_lanes(plan_, ws_);
    return linkage::lane_placement(plan_, ws_, body, lane);
}

Vec3 LaneReadings::point(linkage::AnchorId anchor, int lane) {
    linkage::settle_lanes(plan_, ws_);
    return linkage::lane_point(plan_, ws_, anchor, lane);
}

Result<LaneSolver> LaneSolver::make(const Head& head, const linkage::LaneKernel& kernel) {
    auto plan = linkage::LanePlan::make(head.plan());
    if (!plan) return tl::unexpected(Failure{plan.error().message, {}});
    return LaneSolver(head, std::move(*plan), kernel);
}

void LaneSolver::set_hub(std::span<const double> azimuth_deg) {
    LaneValues& hub = ws_.inputs[static_cast<std::size_t>(head_.parts().hub_input)];
    for (std::size_t lane = 0; lane < azimuth_deg.size(); ++lane)
        hub.of[lane] = hub_angle(head_.description(), azimuth_deg[lane]);
}

LaneSet LaneSolver::solve(std::size_t used) {
    return linkage::solve_lanes(head_.plan(), plan_, ws_, static_cast<int>(used));
}

LaneSet LaneSolver::pose(std::span<const Sticks> sticks, std::span<const double> azimuth_deg) {
    const std::size_t used = std::min<std::size_t>({sticks.size(), azimuth_deg.size(), lanes});
    if (used == 0) return 0;
    for (std::size_t j = 0; j < head_.description().servos.size(); ++j)
        for (std::size_t lane = 0; lane < used; ++lane)
            ws_.inputs[j].of[lane] = head_.horn_angle_deg(j, sticks[lane]) * degree;
    set_hub(azimuth_deg.first(used));
    return solve(used);
}

LaneSet LaneSolver::pose(const Sticks& sticks, std::span<const double> azimuth_deg) {
    const std::size_t used = std::min<std::size_t>(azimuth_deg.size(), lanes);
    if (used == 0) return 0;
    for (std::size_t j = 0; j < head_.description().servos.size(); ++j)
        ws_.inputs[j].of.fill(head_.horn_angle_deg(j, sticks) * degree);
    set_hub(azimuth_deg.first(used));
    return solve(used);
}

LaneSet LaneSolver::pose_horns(std::span<const LaneValues> horn_deg, const LaneValues& azimuth_deg, int used) {
    for (std::size_t j = 0; j < horn_deg.size(); ++j)
        for (int lane = 0; lane < lanes; ++lane) ws_.inputs[j][lane] = horn_deg[j][lane] * degree;
    set_hub(azimuth_deg.of);
    return solve(static_cast<std::size_t>(used));
}

void LaneSolver::set_hand(std::size_t hand, double deg) {
    ws_.inputs[static_cast<std::size_t>(head_.parts().hands[hand].input)].of.fill(deg * degree);
}

void LaneSolver::reset() {
    std::vector<LaneValues> hands;
    for (const Parts::Hand& hand : head_.parts().hands)
        hands.push_back(ws_.inputs[static_cast<std::size_t>(hand.input)]);
    linkage::reset_lanes(head_.plan(), plan_, ws_);
    for (std::size_t i = 0; i < hands.size(); ++i)
        ws_.inputs[static_cast<std::size_t>(head_.parts().hands[i].input)] = hands[i];
}

Result<LaneHeads> LaneHeads::make(const Head& like, const linkage::LaneKernel& kernel) {
    auto plan = linkage::LanePlan::make(like.plan());
    if (!plan) return tl::unexpected(Failure{plan.error().message, {}});
    LaneHeads out(like, std::move(*plan), kernel);
    const Description kept = mixer_kept(like);
    for (int lane = 0; lane < lanes; ++lane) out.set(lane, kept);
    return out;
}

bool LaneHeads::set(int lane, const Description& d) {
    if (!check(d).empty()) return false;
    for (std::size_t j = 0; j < d.servos.size(); ++j)
        if (!d.servos[j].raise && !linked_straight(d, j)) return false;  // only the built linkage shows its sense
    if (!linkage::load_lane(head_.plan(), plan_, ws_, lane, assemble(d).linkage)) return false;
    const auto l = static_cast<std::size_t>(lane);
    commands_[l].clear();
    for (std::size_t j = 0; j < d.servos.size(); ++j) commands_[l].push_back(command_of(d, j, raise_sign(d.servos[j])));
    spin_[l] = spin_sign(d.rotor.direction);
    for (std::size_t k = 0; k < d.grips.size(); ++k) pitch_offset_deg_[k][lane] = d.grips[k].pitch_offset_deg;
    return true;
}

LaneSet LaneHeads::start() {
    sticks_.reset();
    return linkage::start_lanes(head_.plan(), plan_, ws_);
}

LaneSet LaneHeads::pose(const Sticks& sticks, double azimuth_deg) {
    const bool same = sticks_ == sticks;
    sticks_ = sticks;
    for (std::size_t lane = 0; lane < lanes; ++lane) {
        for (std::size_t j = 0; !same && j < commands_[lane].size(); ++j)
            ws_.inputs[j].of[lane] = commands_[lane][j].horn_deg(sticks) * degree;
        ws_.inputs[static_cast<std::size_t>(head_.parts().hub_input)].of[lane] =
            pi + spin_[lane] * azimuth_deg * degree;
    }
    return linkage::move_lanes(plan_, ws_);
}

}  // namespace swashwright::head
