#include "kinematics/linkage/input_motion.h"

#include <algorithm>

namespace swashwright::linkage {

InputMotion::InputMotion(const Plan& plan)
    : inputs_(static_cast<int>(plan.inputs().size())),
      width_(even(inputs_)),
      rates_(4 * plan.description().bodies().size() * static_cast<std::size_t>(width_)),
      spin_(plan.description().bodies().size() * plan.inputs().size(), Vec3::Zero()),
      drift_(spin_) {}

void InputMotion::at(const Plan& plan, const Workspace& ws, Linearised& linearised) {
    for (int i = 0; i < inputs_; ++i)
        rates_[static_cast<std::size_t>(4 * plan.inputs()[static_cast<std::size_t>(i)].index * width_ + i)] = 1;
    linearised.forward(rates_.data(), width_);
    for (int body = 1; body < static_cast<int>(plan.description().bodies().size()); ++body)
        for (int i = 0; i < inputs_; ++i)
            if (plan.body(body).inputs >> i & 1) move(plan, ws, body, i);
}

/// As `move_body` has it.
void InputMotion::move(const Plan& plan, const Workspace& ws, int body, int input) {
    const Plan::BodyPlan& at = plan.body(body);
    const Placement &frame = ws.frames[body], &out = ws.bodies[body];
    Vec3 &spin = spin_[place(body, input)], &drift = drift_[place(body, input)];
    spin = spin_[place(at.parent, input)];
    drift = drift_[place(at.parent, input)] + spin.cross(frame.origin - ws.bodies[at.parent].origin);
    const auto rate_of = [&](int k) { return rate(body, input, k); };
    switch (at.joint) {
        case Joint::fixed:
            return;
        case Joint::revolute:
            spin += frame.turn.col(2) * rate_of(0);
            return;
        case Joint::ball:
            spin += Vec3(rate_of(0), rate_of(1), rate_of(2));
            return;
        case Joint::prismatic:
            drift += spin.cross(out.origin - frame.origin) + frame.turn.col(2) * rate_of(0);
            return;
        case Joint::slide_and_ball:
            drift += spin.cross(out.origin - frame.origin) + frame.turn.col(2) * rate_of(0);
            spin += Vec3(rate_of(1), rate_of(2), rate_of(3));
            return;
    }
}

}  // namespace swashwright::linkage
