#include "kinematics/linkage/motion.h"

namespace swashwright::linkage {

namespace {

void move_riders(const Plan& plan, Workspace& ws, int index, const Changes* changes) {
    const Placement& body = ws.bodies[index];
    const Vec3 &spin = ws.spin[index], &drift = ws.drift[index];
    for (const auto& rider : plan.riders(plan.body(index))) {
        const int a = rider.index;
        ws.anchor_drift[a] = drift + spin.cross(ws.anchors[a] - body.origin);
        if (changes) ws.anchor_drift[a] += body.turn * changes->anchor_shift[a];
    }
    for (const auto& plane : plan.planes(plan.body(index))) {
        const int c = plane.index;
        ws.normal_drift[c] = spin.cross(ws.normals[c]);
        if (changes) ws.normal_drift[c] += body.turn * changes->normal_turn[c];
    }
}

}  // namespace

void move_ground(const Plan& plan, Workspace& ws, const Changes* changes) {
    ws.spin[0].setZero();
    ws.drift[0].setZero();
    move_riders(plan, ws, 0, changes);
}

void move_body(const Plan& plan, Workspace& ws, int index, const Changes* changes) {
    const Plan::BodyPlan& body = plan.body(index);
    const Placement &parent = ws.bodies[body.parent], &frame = ws.frames[index], &out = ws.bodies[index];
    Vec3 &spin = ws.spin[index], &drift = ws.drift[index];
    spin = ws.spin[body.parent];
    drift = ws.drift[body.parent] + spin.cross(frame.origin - parent.origin);
    if (changes) {
        spin += parent.turn * changes->frame_turn[index];
        drift += parent.turn * changes->frame_shift[index];
    }
    ws.frame_spin[index] = spin;
    ws.frame_drift[index] = drift;
    const double* rate = &ws.rates[4 * static_cast<std::size_t>(index)];
    const auto axis = frame.turn.col(2);
    switch (body.joint) {
        case Joint::fixed:
            break;
        case Joint::revolute:
            spin += axis * rate[0];
            break;
        case Joint::prismatic:
            drift += spin.cross(out.origin - frame.origin) + axis * rate[0];
            break;
        case Joint::ball:
            spin += Vec3(rate[0], rate[1], rate[2]);
            break;
        case Joint::slide_and_ball:
            drift += spin.cross(out.origin - frame.origin) + axis * rate[0];
            spin += Vec3(rate[1], rate[2], rate[3]);
            break;
    }
    move_riders(plan, ws, index, changes);
}

}  // namespace swashwright::linkage
