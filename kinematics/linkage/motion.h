// First-order motion: how every body, anchor and slot plane moves when joints and the description change at unit rate.
#pragma once

#include "kinematics/linkage/workspace.h"

namespace swashwright::linkage {

/// A change of the description, kept dense so that a body finds its own in one step.
struct Changes {
    explicit Changes(const Plan& plan)
        : frame_shift(plan.description().bodies().size(), Vec3::Zero()),
          frame_turn(frame_shift),
          anchor_shift(plan.description().anchors().size(), Vec3::Zero()),
          normal_turn(plan.description().closures().size(), Vec3::Zero()),
          length(plan.description().closures().size(), 0.0) {}

    std::vector<Vec3> frame_shift;   // joint frame's origin, in the parent's frame, mm
    std::vector<Vec3> frame_turn;    // joint frame's rotation vector, in the parent's frame, rad
    std::vector<Vec3> anchor_shift;  // in its body's frame, mm
    std::vector<Vec3> normal_turn;   // change of a slot's normal, in its body's frame
    std::vector<double> length;      // of a link, mm
};

/// Motion of one body and what rides on it, from its parent's motion, its joint's rates (ws.rates[4 body ...]: mm and
/// rad about the ground's axes) and the changes, if any.
void move_body(const Plan& plan, Workspace& ws, int body, const Changes* changes);

/// The ground's own anchors and planes.
void move_ground(const Plan& plan, Workspace& ws, const Changes* changes);

}  // namespace swashwright::linkage
