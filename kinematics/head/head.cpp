#include "kinematics/head/head.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/head/command.h"
#include "kinematics/linkage/fit.h"
#include "kinematics/linkage/rows.h"
#include "kinematics/linkage/solve.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::head {

namespace {

/// Inputs of the linkage. Hands that are not given stay at neutral.
std::vector<double> inputs_of(const Head& head, std::span<const double> horn_deg, double azimuth_deg,
                              std::span<const double> hand_deg) {
    const Parts& parts = head.parts();
    std::vector<double> inputs = head.plan().neutral_inputs();
    for (std::size_t j = 0; j < horn_deg.size(); ++j) inputs[j] = horn_deg[j] * degree;
    inputs[static_cast<std::size_t>(parts.hub_input)] =
        hub_angle(head.description(), std::remainder(azimuth_deg, 360.0));
    for (std::size_t i = 0; i < hand_deg.size(); ++i)
        inputs[static_cast<std::size_t>(parts.hands[i].input)] = hand_deg[i] * degree;
    return inputs;
}

Shortfall shortfall_of(const Head& head, const linkage::Shortfall& found) {
    Shortfall out;
    out.missing_mm = found.missing_mm;
    out.sentence = linkage::sentence(head.plan(), found);
    const auto find = [&](const std::vector<linkage::ClosureId>& links, Role role) {
        const auto at = std::find(links.begin(), links.end(), found.closure);
        if (at == links.end()) return;
        out.part = PartName{role, static_cast<int>(at - links.begin())};
    };
    find(head.parts().lower_links, Role::lower_link);
    find(head.parts().upper_links, Role::upper_link);
    find(head.parts().links, Role::other_link);
    return out;
}

std::vector<Shortfall> shortfalls_of(const Head& head, const std::vector<linkage::Shortfall>& found) {
    std::vector<Shortfall> out;
    for (const auto& shortfall : found) out.push_back(shortfall_of(head, shortfall));
    return out;
}

Failure failure_of(std::vector<Shortfall> shortfalls, std::string_view where) {
    Failure failure;
    for (const auto& shortfall : shortfalls)
        failure.message += (failure.message.empty() ? "" : "; ") + shortfall.sentence;
    if (shortfalls.empty())
        failure.message = fmt::format("the linkage cannot be moved{} without passing a dead point", where);
    else
        failure.message += where;
    failure.shortfalls = std::move(shortfalls);
    return failure;
}

std::vector<Vec3> points(const linkage::Workspace& ws, const std::vector<linkage::AnchorId>& anchors) {
    std::vector<Vec3> out;
    for (const auto anchor : anchors) out.push_back(ws.point(anchor));
    return out;
}

Skeleton skeleton_of(const Parts& parts, const linkage::Workspace& ws) {
    Skeleton out;
    for (const auto horn : parts.horns) out.horns.push_back(ws.placement(horn));
    for (const auto grip : parts.grips) out.grips.push_back(ws.placement(grip));
    out.inner_ring = ws.placement(parts.inner_ring);
    out.outer_ring = ws.placement(parts.outer_ring);
    out.hub = ws.placement(parts.hub);
    out.horn_balls = points(ws, parts.horn_balls);
    out.inner_balls = points(ws, parts.inner_balls);
    out.outer_balls = points(ws, parts.outer_balls);
    out.grip_balls = points(ws, parts.grip_balls);
    out.driver_pins = points(ws, parts.driver_pins);
    if (parts.guide_pin.index >= 0) out.guide_pin = ws.point(parts.guide_pin);
    for (const auto lever : parts.levers) out.levers.push_back(ws.placement(lever));
    for (const auto slider : parts.sliders) out.sliders.push_back(ws.placement(slider));
    for (const auto& balls : parts.lever_balls) out.lever_balls.push_back(points(ws, balls));
    for (const auto& balls : parts.slider_balls) out.slider_balls.push_back(points(ws, balls));
    out.fixed_balls = points(ws, parts.fixed_balls);
    return out;
}

double largest_error(const linkage::Plan& plan, const linkage::Workspace& ws) {
    double worst = 0;
    for (const auto& block : plan.blocks())
        for (const auto& row : block.rows)
            if (!row.least_squares) worst = std::max(worst, std::abs(linkage::closure_error(ws, row)));
    return worst;
}

/// The largest length error or gap of links and pins that share a misfit; none where none do.
std::optional<double> misfit_of(const linkage::Plan& plan, const linkage::Workspace& ws) {
    std::optional<double> worst;
    for (const auto& block : plan.blocks())
        for (const auto& row : block.rows) {
            if (!row.least_squares || row.kind == linkage::ClosureKind::slot) continue;
            const double off = row.kind == linkage::ClosureKind::link ? std::abs(linkage::closure_error(ws, row))
                                                                      : (ws.anchors[row.a] - ws.anchors[row.b]).norm();
            worst = std::max(worst.value_or(0), off);
        }
    return worst;
}

Pose pose_of(const Head& head, const linkage::Workspace& ws, std::span<const double> horn_deg) {
    const auto& parts = head.parts();
    Pose pose;
    pose.horn_deg.assign(horn_deg.begin(), horn_deg.end());
    pose.height_mm = ws.slide(parts.inner_ring);
    const Vec3 n = ws.placement(parts.inner_ring).turn.col(2);
    pose.tilt_deg = std::atan2(std::hypot(n.x(), n.y()), n.z()) / degree;
    if (pose.tilt_deg >= 1e-9) {
        pose.lowest_azimuth_deg = std::atan2(n.y(), n.x()) / degree;
        if (pose.lowest_azimuth_deg == -180.0) pose.lowest_azimuth_deg = 180.0;
    }
    pose.tilt_forward_deg = tilt_forward_deg(n);
    pose.tilt_right_deg = tilt_right_deg(n);
    for (std::size_t k = 0; k < parts.grips.size(); ++k)
        pose.pitch_deg.push_back(ws.angle(parts.grips[k]) / degree + head.description().grips[k].pitch_offset_deg);
    for (const auto lever : parts.levers) pose.lever_deg.push_back(ws.angle(lever) / degree);
    for (const auto slider : parts.sliders) pose.slider_mm.push_back(ws.slide(slider));
    pose.residual_mm = largest_error(head.plan(), ws);
    pose.misfit_mm = misfit_of(head.plan(), ws);
    if (parts.driver_slots.size() > 1)
        for (std::size_t i = 0; i < parts.driver_slots.size(); ++i)  // the slot's plane runs through the shaft
            pose.driver_misfit_mm.push_back(
                ws.normals[parts.driver_slots[i].index].dot(ws.point(parts.driver_pins[i])));
    pose.skeleton = skeleton_of(parts, ws);
    return pose;
}

constexpr double least_rise =
    0.02;  // of the ring's height by a horn's angle, over the horn's length: too small to tell

/// The sense in which a horn raises the ring, by the exact slope of its height at neutral. For servos that reach the
/// ring through levers; a linkage that does not close at neutral has no slope, and +1 stands in.
Result<double> sense_of(const Description& d, const linkage::Plan& plan, const Parts& parts, std::size_t servo) {
    if (!plan.neutral_shortfalls().empty()) return 1.0;
    linkage::Workspace ws(plan);
    linkage::Tangent tangent(plan);
    const linkage::Report report = linkage::solve(plan, ws, plan.neutral_inputs());
    double rise = 0;  // mm/rad
    if (report.closed && tangent.at(plan, ws)) {
        const linkage::Change turn{linkage::Quantity::input, static_cast<int>(servo), Vec3::UnitX()};
        tangent.along(plan, ws, {&turn, 1});
        rise = linkage::rate(ws, parts.inner_ring);
    }
    if (std::abs(rise) >= least_rise * d.servos[servo].horn_mm) return std::copysign(1.0, rise);
    return tl::unexpected(Failure{
        fmt::format("servo {}: at neutral it moves the ring by {:.3f} mm for each degree, too little to tell which way "
                    "raises it; add raise = 1 or raise = -1",
                    d.servos[servo].name, rise * degree),
        {}});
}

}  // namespace

Result<Head> Head::build(const Description& description) {
    if (auto complaint = check(description); !complaint.empty()) return tl::unexpected(Failure{complaint, {}});
    Assembly assembly = assemble(description);
    auto plan = linkage::Plan::make(std::move(assembly.linkage));
    if (!plan) return tl::unexpected(Failure{plan.error().message, {}});
    Head head;
    head.description_ = std::make_shared<const Description>(description);
    head.plan_ = std::make_shared<const linkage::Plan>(std::move(*plan));
    head.parts_ = std::make_shared<const Parts>(std::move(assembly.parts));
    head.model_ = std::make_shared<const Model>(*head.description_, *head.parts_);
    for (std::size_t j = 0; j < description.servos.size(); ++j) {
        const Servo& servo = description.servos[j];
        double raise = raise_sign(servo);
        if (!servo.raise && !linked_straight(description, j)) {
            const auto sense = sense_of(description, head.plan(), head.parts(), j);
            if (!sense) return tl::unexpected(sense.error());
            raise = *sense;
        }
        head.raise_.push_back(raise);
        head.gains_.push_back(command_of(description, j, head.raise_.back()).gains_deg);
    }
    if (!head.plan_->neutral_shortfalls().empty())
        head.neutral_failure_ = std::make_shared<const Failure>(
            failure_of(shortfalls_of(head, head.plan_->neutral_shortfalls()), " at neutral"));
    return head;
}

std::span<const double> Head::raise_signs() const {
    return raise_;
}

double Head::horn_angle_deg(std::size_t servo, const Sticks& sticks) const {
    const Servo& s = description_->servos[servo];
    return Command{s.neutral_deg + s.trim_deg, gains_[servo], raise_[servo], s.end_share}.horn_deg(sticks);
}

std::vector<double> Head::horn_angles_deg(const Sticks& sticks) const {
    std::vector<double> out;
    for (std::size_t j = 0; j < description_->servos.size(); ++j) out.push_back(horn_angle_deg(j, sticks));
    return out;
}

std::vector<std::string> Head::beyond_travel(std::span<const double> horn_deg) const {
    std::vector<std::string> out;
    for (std::size_t j = 0; j < description_->servos.size() && j < horn_deg.size(); ++j) {
        const Servo& servo = description_->servos[j];
        const double low = servo.neutral_deg + servo.travel_deg[0], high = servo.neutral_deg + servo.travel_deg[1];
        if (horn_deg[j] >= low && horn_deg[j] <= high) continue;
        out.push_back(fmt::format("{}: horn at {:.1f} deg, travel ends at {:.1f} deg", servo_words(servo), horn_deg[j],
                                  horn_deg[j] < low ? low : high));
    }
    return out;
}

namespace {

/// The worst shortfall met on the straight way from neutral, for a pose that could be put together only on the far side
/// of one. Empty if nothing is short on the way: then the way leads through a dead point.
std::vector<linkage::Shortfall> worst_on_the_way(const linkage::Plan& plan, linkage::Workspace& ws,
                                                 const std::vector<double>& end) {
    constexpr int samples = 64;
    std::vector<linkage::Shortfall> worst;
    linkage::reset(plan, ws);
    std::vector<double> here = plan.neutral_inputs();
    for (int i = 1; i <= samples; ++i) {
        for (std::size_t k = 0; k < end.size(); ++k)
            here[k] = plan.neutral_inputs()[k] + i * (end[k] - plan.neutral_inputs()[k]) / samples;
        for (const auto& shortfall : linkage::solve_nearest(plan, ws, here))
            if (worst.empty() || std::abs(shortfall.missing_mm) > std::abs(worst[0].missing_mm)) worst = {shortfall};
    }
    return worst;
}

}  // namespace

Result<Pose> Head::pose(const Sticks& sticks, double azimuth_deg, std::span<const double> hand_deg) const {
    return pose(horn_angles_deg(sticks), azimuth_deg, hand_deg);
}

Result<Pose> Head::pose(std::span<const double> horn_deg, double azimuth_deg, std::span<const double> hand_deg) const {
    if (horn_deg.size() != description_->servos.size())
        return tl::unexpected(Failure{fmt::format("{} horn angles expected, one for each servo; found {}",
                                                  description_->servos.size(), horn_deg.size()),
                                      {}});
    if (!hand_deg.empty() && hand_deg.size() != parts_->hands.size())
        return tl::unexpected(Failure{
            fmt::format("{} angles expected for parts moved by hand, found {}", parts_->hands.size(), hand_deg.size()),
            {}});
    const auto finite = [](double a) { return std::isfinite(a); };
    if (!std::isfinite(azimuth_deg) || !std::ranges::all_of(horn_deg, finite) || !std::ranges::all_of(hand_deg, finite))
        return tl::unexpected(Failure{"horn angles and azimuth must be finite numbers", {}});
    if (neutral_failure_) return tl::unexpected(*neutral_failure_);
    linkage::Workspace ws(*plan_);
    const std::vector<double> way[] = {inputs_of(*this, horn_deg, 0, hand_deg),
                                       inputs_of(*this, horn_deg, azimuth_deg, hand_deg)};
    if (linkage::solve_from_neutral(*plan_, ws, way).closed) return pose_of(*this, ws, horn_deg);
    linkage::reset(*plan_, ws);
    const auto here = linkage::solve_nearest(*plan_, ws, way[1]);
    if (!here.empty()) return tl::unexpected(failure_of(shortfalls_of(*this, here), " at this pose"));
    return tl::unexpected(
        failure_of(shortfalls_of(*this, worst_on_the_way(*plan_, ws, way[0])), " on the way to this pose"));
}

NearestFit Head::nearest(std::span<const double> horn_deg, double azimuth_deg, std::span<const double> hand_deg) const {
    linkage::Workspace ws(*plan_);
    NearestFit fit;
    fit.shortfalls =
        shortfalls_of(*this, linkage::solve_nearest(*plan_, ws, inputs_of(*this, horn_deg, azimuth_deg, hand_deg)));
    fit.pose = pose_of(*this, ws, horn_deg);
    return fit;
}

}  // namespace swashwright::head
