#include "kinematics/head/solver.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/build.h"

namespace swashwright::head {

Solver::Solver(const Head& head)
    : head_(head), ws_(head.plan()), inputs_(head.plan().neutral_inputs()), tangent_(head.plan()) {
    for (const Grip& grip : head.description().grips) pitch_offset_deg_.push_back(grip.pitch_offset_deg);
    changes_.reserve(16);
}

bool Solver::pose(const Sticks& sticks, double azimuth_deg) {
    std::array<double, most_servos> horns{};
    const std::size_t count = head_.description().servos.size();
    for (std::size_t j = 0; j < count; ++j) horns[j] = head_.horn_angle_deg(j, sticks);
    return pose(std::span(horns.data(), count), azimuth_deg);
}

bool Solver::pose(std::span<const double> horn_deg, double azimuth_deg) {
    for (std::size_t j = 0; j < horn_deg.size(); ++j) inputs_[j] = horn_deg[j] * degree;
    inputs_[static_cast<std::size_t>(head_.parts().hub_input)] = hub_angle(head_.description(), azimuth_deg);
    report_ = linkage::solve_joints(head_.plan(), ws_, inputs_);
    return report_.closed;
}

void Solver::set_hand(std::size_t hand, double deg) {
    inputs_[static_cast<std::size_t>(head_.parts().hands[hand].input)] = deg * degree;
}

void Solver::reset() {
    linkage::reset(head_.plan(), ws_);
}

const Solver::Tilt& Solver::tilt() const {
    const Vec3 n = ring_normal();
    if (n != tilt_.normal) tilt_ = {n, head::tilt_forward_deg(n), head::tilt_right_deg(n)};
    return tilt_;
}

bool Solver::linearise() {
    linkage::settle(head_.plan(), ws_);
    return tangent_.at(head_.plan(), ws_);
}

linkage::Workspace& Solver::workspace() {
    linkage::settle(head_.plan(), ws_);
    return ws_;
}

void Solver::read_slopes(Slopes& out) const {
    const Parts& parts = head_.parts();
    out.height_mm = linkage::rate(ws_, parts.inner_ring, 0);
    const Vec3 n = ring_normal();
    const Vec3 dn = ws_.spin[parts.inner_ring.index].cross(n);
    out.tilt_forward_deg = (dn.x() * n.z() - n.x() * dn.z()) / (n.x() * n.x() + n.z() * n.z()) / degree;
    out.tilt_right_deg = (-dn.y() * n.z() + n.y() * dn.z()) / (n.y() * n.y() + n.z() * n.z()) / degree;
    out.pitch_deg.resize(parts.grips.size());
    for (std::size_t k = 0; k < parts.grips.size(); ++k) out.pitch_deg[k] = linkage::rate(ws_, parts.grips[k]) / degree;
}

void Solver::slopes_by(const Number& number, Slopes& out, const Sticks& sticks) {
    changes_.clear();
    number.rates(head_, sticks, changes_);
    tangent_.along(head_.plan(), ws_, changes_);
    read_slopes(out);
    if (number.kind == NumberKind::pitch_offset) out.pitch_deg[static_cast<std::size_t>(number.index)] += 1.0;
}

void Solver::slopes_by_horn(int servo, Slopes& out) {
    const linkage::Change change{linkage::Quantity::input, servo, {degree, 0, 0}};
    tangent_.along(head_.plan(), ws_, {&change, 1});
    read_slopes(out);
}

void Solver::slopes_by_azimuth(Slopes& out) {
    const int hub = head_.parts().hub_input;
    const double sense = spin_sign(head_.description().rotor.direction);
    const linkage::Change change{linkage::Quantity::input, hub, {sense * degree, 0, 0}};
    tangent_.along(head_.plan(), ws_, {&change, 1});
    read_slopes(out);
}

void Solver::slopes_by_stick(Stick stick, Slopes& out) {
    changes_.clear();
    for (std::size_t j = 0; j < head_.description().servos.size(); ++j) {
        const double gain = head_.stick_gains_deg(static_cast<int>(j))[static_cast<std::size_t>(stick)];
        const Servo& servo = head_.description().servos[j];
        const double more_deg = inputs_[j] / degree - servo.neutral_deg - servo.trim_deg;
        const double share = end_share(servo, head_.raise_signs()[j] * more_deg);
        changes_.push_back({linkage::Quantity::input, static_cast<int>(j), {share * gain * degree, 0, 0}});
    }
    tangent_.along(head_.plan(), ws_, changes_);
    read_slopes(out);
}

}  // namespace swashwright::head
