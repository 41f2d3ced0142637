// Joints to placements: where bodies, anchors and slot planes stand once the joints before them are known.
#pragma once

#include "kinematics/linkage/workspace.h"

namespace swashwright::linkage {

/// Turns by a small rotation vector given in the frame in which `turn` is. Exact for the half-angle tangent, which is
/// all that a Newton step needs, and keeps the quaternion at unit length.
inline void turn_ball(Quat& turn, const Vec3& rotation) {
    turn = Quat(1.0, 0.5 * rotation.x(), 0.5 * rotation.y(), 0.5 * rotation.z()) * turn;
    turn.coeffs() *= 1.0 / std::sqrt(turn.squaredNorm());
}

/// The joint frame of one body from its parent's placement.
inline void place_frame(const Plan& plan, Workspace& ws, int index) {
    const Plan::BodyPlan& body = plan.body(index);
    if (body.constant_frame) return;
    const Placement& parent = ws.bodies[body.parent];
    Placement& frame = ws.frames[index];
    if (body.plain_frame) {
        frame = parent;
        return;
    }
    frame.turn.noalias() = parent.turn * body.joint_frame.turn;
    frame.origin.noalias() = parent.origin + parent.turn * body.joint_frame.origin;
}

/// Anchors and slot normals of one body from its placement.
inline void place_riders(const Plan& plan, Workspace& ws, int index) {
    const Plan::BodyPlan& body = plan.body(index);
    const Placement& at = ws.bodies[index];
    for (const auto& rider : plan.riders(body)) ws.anchors[rider.index] = at.origin + at.turn.lazyProduct(rider.local);
    for (const auto& plane : plan.planes(body)) ws.normals[plane.index] = at.turn.lazyProduct(plane.local);
}

/// Placement, anchors and slot normals of one body from its joint frame and its joint.
inline void place_on_frame(const Plan& plan, Workspace& ws, int index) {
    const Plan::BodyPlan& body = plan.body(index);
    const Placement& frame = ws.frames[index];
    Placement& out = ws.bodies[index];
    const JointState& joint = ws.joints[index];
    switch (body.joint) {
        case Joint::fixed:
            out = frame;
            break;
        case Joint::revolute:
            out.turn.col(0) = joint.c * frame.turn.col(0) + joint.s * frame.turn.col(1);
            out.turn.col(1) = joint.c * frame.turn.col(1) - joint.s * frame.turn.col(0);
            out.turn.col(2) = frame.turn.col(2);
            out.origin = frame.origin;
            break;
        case Joint::prismatic:
            out.turn = frame.turn;
            out.origin = frame.origin + joint.slide * frame.turn.col(2);
            break;
        case Joint::ball:
            out.turn.noalias() = frame.turn * joint.turn.toRotationMatrix();
            out.origin = frame.origin;
            break;
        case Joint::slide_and_ball:
            if (body.level_frame)
                out.turn = joint.turn.toRotationMatrix();
            else
                out.turn.noalias() = frame.turn * joint.turn.toRotationMatrix();
            out.origin = frame.origin + joint.slide * frame.turn.col(2);
            break;
    }
    place_riders(plan, ws, index);
}

inline void place_body(const Plan& plan, Workspace& ws, int index) {
    place_frame(plan, ws, index);
    place_on_frame(plan, ws, index);
}

/// Joint frames that stand still while the block is solved: brings them up to date with the blocks before.
inline void enter_block(const Plan& plan, Workspace& ws, const Block& block) {
    for (const int body : block.roots) place_frame(plan, ws, body);
}

/// The block's bodies from its joints; its roots' frames must be up to date.
inline void place_block(const Plan& plan, Workspace& ws, const Block& block) {
    for (const int body : block.bodies) {
        if (plan.body(body).rides_in_block) place_frame(plan, ws, body);
        place_on_frame(plan, ws, body);
    }
}

/// Cranks among the plan's driven bodies.
std::vector<Plan::Crank> find_cranks(const Plan& plan);
/// Every body from the joints as they stand.
void place_all(const Plan& plan, Workspace& ws);
/// Puts driven joints at `inputs` and marks what changed in `ws.stale`; places the bodies that inputs alone settle, of
/// cranks the points only.
void drive(const Plan& plan, Workspace& ws, std::span<const double> inputs);
/// Moves the block's joints by a first-order step (mm, and rad about the ground's axes), then places its bodies, which
/// must have been placed since the block was entered.
void move_joints(const Plan& plan, Workspace& ws, const Block& block, const double* step);

/// Size of such a step as an angle: rad, slides divided by the block's lever. N is the block's unknowns, or 0.
template <int N>
double step_size(const Block& block, const double* step) {
    double sum = 0;
    for (int k = 0; k < (N ? N : block.unknowns); ++k) {
        const double d = step[k] * block.as_angle[static_cast<std::size_t>(k)];
        sum += d * d;
    }
    return std::sqrt(sum);
}

}  // namespace swashwright::linkage
