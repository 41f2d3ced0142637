#include "kinematics/linkage/place.h"

#include <algorithm>

namespace swashwright::linkage {

namespace {

/// Turns by a small angle: exact for the half-angle tangent, as `turn_ball`, and without sine and cosine.
void turn_revolute(JointState& joint, double angle) {
    const double half = 0.5 * angle, c = joint.c - half * joint.s, s = joint.s + half * joint.c;
    const double turned_c = c - half * s, turned_s = s + half * c;
    const double scale = 1.0 / std::sqrt(turned_c * turned_c + turned_s * turned_s);
    joint.c = turned_c * scale;
    joint.s = turned_s * scale;
}

/// A joint frame that rides in the block. On a parent that slides on a frame that stands it does not turn.
void move_frame(const Plan& plan, Workspace& ws, int index) {
    const Plan::BodyPlan& body = plan.body(index);
    const Plan::BodyPlan& parent = plan.body(body.parent);
    if (parent.joint != Joint::prismatic || parent.rides_in_block) {
        place_frame(plan, ws, index);
        return;
    }
    const Placement& at = ws.bodies[body.parent];
    ws.frames[index].origin.noalias() = at.origin + at.turn * body.joint_frame.origin;
}

}  // namespace

Workspace::Workspace(const Plan& plan)
    : joints(plan.neutral()),
      frames(plan.description().bodies().size()),
      bodies(frames.size()),
      anchors(plan.description().anchors().size()),
      normals(plan.description().closures().size(), Vec3::Zero()),
      inputs(plan.neutral_inputs()),
      good_joints(plan.neutral()),
      good_inputs(plan.neutral_inputs()),
      path_from(inputs.size()),
      path_to(inputs.size()),
      path_here(inputs.size()),
      path_joints(joints),
      spin(frames.size()),
      drift(frames.size()),
      frame_spin(frames.size()),
      frame_drift(frames.size()),
      anchor_drift(anchors.size()),
      normal_drift(normals.size()) {
    rates.resize(4 * frames.size());
    place_all(plan, *this);
}

std::vector<Plan::Crank> find_cranks(const Plan& plan) {
    const auto& bodies = plan.description().bodies();
    std::vector<Plan::Crank> cranks;
    for (const int b : plan.driven_bodies()) {
        const Plan::BodyPlan& body = plan.body(b);
        const auto rides = [b](const Body& other) { return other.parent.index == b; };
        if (!bodies[b].input || body.joint != Joint::revolute || !body.constant_frame || !plan.planes(body).empty() ||
            std::any_of(bodies.begin(), bodies.end(), rides))
            continue;
        const Mat3& axes = body.joint_frame.turn;
        cranks.push_back({b, {}});
        for (const auto& [anchor, p] : plan.riders(body))
            cranks.back().points.push_back({anchor, body.joint_frame.origin + p.z() * axes.col(2),
                                            p.x() * axes.col(0) + p.y() * axes.col(1),
                                            p.x() * axes.col(1) - p.y() * axes.col(0)});
    }
    return cranks;
}

void place_all(const Plan& plan, Workspace& ws) {
    const int count = static_cast<int>(plan.description().bodies().size());
    ws.bodies[0] = {};
    for (const auto& rider : plan.riders(plan.body(0))) ws.anchors[rider.index] = rider.local;
    for (const auto& plane : plan.planes(plan.body(0))) ws.normals[plane.index] = plane.local;
    for (int b = 1; b < count; ++b) {
        if (plan.body(b).constant_frame) ws.frames[b] = plan.body(b).joint_frame;
        place_body(plan, ws, b);
    }
}

void drive(const Plan& plan, Workspace& ws, std::span<const double> inputs) {
    std::uint64_t changed = 0;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        if (inputs[i] == ws.inputs[i]) continue;
        ws.inputs[i] = inputs[i];
        changed |= std::uint64_t{1} << i;
        const int body = plan.inputs()[i].index;
        JointState& joint = ws.joints[body];
        if (plan.body(body).joint == Joint::revolute) {
            const double c = std::cos(inputs[i]),
                         s = std::sin(inputs[i]);  // before either is stored: one call for both
            joint.c = c;
            joint.s = s;
        } else {
            joint.slide = inputs[i];
        }
    }
    for (const Plan::Crank& crank : plan.cranks()) {
        if (!(plan.body(crank.body).inputs & changed)) continue;
        const JointState& joint = ws.joints[crank.body];
        for (const auto& point : crank.points)
            ws.anchors[point.anchor] = point.still + joint.c * point.along + joint.s * point.across;
        ws.cranks_unsettled = true;
    }
    for (const int body : plan.driven_bodies())
        if (plan.body(body).inputs & changed) place_body(plan, ws, body);
    ws.stale |= changed;
}

void move_joints(const Plan& plan, Workspace& ws, const Block& block, const double* step) {
    for (std::size_t i = 0; i < block.joints.size(); ++i) {
        const int body = block.joints[i];
        const double* d = step + block.columns[i];
        JointState& joint = ws.joints[body];
        switch (plan.body(body).joint) {
            case Joint::fixed:
                break;
            case Joint::revolute:
                turn_revolute(joint, d[0]);
                break;
            case Joint::prismatic:
                joint.slide += d[0];
                break;
            case Joint::ball:
                turn_ball(joint.turn, ws.frames[body].turn.transpose() * Vec3(d[0], d[1], d[2]));
                break;
            case Joint::slide_and_ball:
                joint.slide += d[0];
                if (plan.body(body).level_frame)
                    turn_ball(joint.turn, Vec3(d[1], d[2], d[3]));
                else
                    turn_ball(joint.turn, ws.frames[body].turn.transpose() * Vec3(d[1], d[2], d[3]));
                break;
        }
    }
    for (const int body : block.bodies) {
        if (plan.body(body).rides_in_block) move_frame(plan, ws, body);
        place_on_frame(plan, ws, body);
    }
}

}  // namespace swashwright::linkage
