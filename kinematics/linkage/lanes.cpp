#include "kinematics/linkage/lanes.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "kinematics/linkage/solve.h"

namespace swashwright::linkage {

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

void put(LaneWorkspace& ws, int slot, int lane, const Vec3& v) {
    for (int i = 0; i < 3; ++i) ws.at(slot + i, lane) = v[i];
}
void put(LaneWorkspace& ws, int slot, int lane, const Placement& p) {
    for (int i = 0; i < 3; ++i) put(ws, slot + 3 * i, lane, Vec3(p.turn.col(i)));
    put(ws, slot + 9, lane, p.origin);
}
Vec3 vector_at(const LaneWorkspace& ws, int slot, int lane) {
    return {ws.at(slot, lane), ws.at(slot + 1, lane), ws.at(slot + 2, lane)};
}

void put_joint(LaneWorkspace& ws, const LaneBody& body, int slot, int lane, const JointState& joint) {
    const auto put_turn = [&](int at) {
        ws.at(at, lane) = joint.turn.w();
        put(ws, at + 1, lane, joint.turn.vec());
    };
    switch (body.joint) {
        case LaneJoint::fixed:
            break;
        case LaneJoint::revolute:
            ws.at(slot, lane) = joint.c;
            ws.at(slot + 1, lane) = joint.s;
            break;
        case LaneJoint::prismatic:
            ws.at(slot, lane) = joint.slide;
            break;
        case LaneJoint::ball:
            put_turn(slot);
            break;
        case LaneJoint::slide_and_ball:
            ws.at(slot, lane) = joint.slide;
            put_turn(slot + 1);
            break;
    }
}

JointState joint_at(const LaneWorkspace& ws, LaneJoint kind, int slot, int lane) {
    JointState out;
    const auto turn_at = [&](int at) {
        const Vec3 v = vector_at(ws, at + 1, lane);
        return Quat(ws.at(at, lane), v.x(), v.y(), v.z());
    };
    switch (kind) {
        case LaneJoint::fixed:
            break;
        case LaneJoint::revolute:
            out.c = ws.at(slot, lane);
            out.s = ws.at(slot + 1, lane);
            break;
        case LaneJoint::prismatic:
            out.slide = ws.at(slot, lane);
            break;
        case LaneJoint::ball:
            out.turn = turn_at(slot);
            break;
        case LaneJoint::slide_and_ball:
            out.slide = ws.at(slot, lane);
            out.turn = turn_at(slot + 1);
            break;
    }
    return out;
}

/// Where a workspace of one pose stands, into one lane.
void copy_pose(const LaneTables& t, LaneWorkspace& ws, int lane, const Workspace& from) {
    for (const int b : t.all_bodies) {
        const LaneBody& body = t.bodies[b];
        const auto i = static_cast<std::size_t>(b);
        put_joint(ws, body, body.at, lane, from.joints[i]);
        if (body.own_frame) put(ws, body.frame, lane, from.frames[i]);
        put(ws, body.place, lane, from.bodies[i]);
    }
    for (std::size_t a = 0; a < t.anchor.size(); ++a) put(ws, t.anchor[a], lane, from.anchors[a]);
    for (std::size_t c = 0; c < t.normal.size(); ++c)
        if (t.normal[c] >= 0) put(ws, t.normal[c], lane, from.normals[c]);
    for (std::size_t i = 0; i < t.inputs.size(); ++i) ws.at(t.inputs[i].value, lane) = from.inputs[i];
}

/// By `solve`, from where the lane stood.
bool solve_alone(const Plan& plan, const LaneTables& t, LaneWorkspace& ws, int lane) {
    if (!ws.alone) ws.alone = std::make_unique<Workspace>(plan);
    Workspace& one = *ws.alone;
    ++ws.solved_alone;
    const auto& followed = plan.followed_joints();
    for (std::size_t i = 0; i < followed.size(); ++i) {
        const auto b = static_cast<std::size_t>(followed[i]);
        one.joints[b] = one.good_joints[b] = joint_at(ws, t.bodies[b].joint, t.kept[i].to, lane);
    }
    for (std::size_t i = 0; i < t.inputs.size(); ++i) {
        ws.alone_inputs[i] = ws.inputs[i][lane];
        one.good_inputs[i] = ws.at(t.inputs[i].good_value, lane);
        one.inputs[i] = not_a_number;  // as no input is, so that all are driven anew
    }
    forget(one);
    const bool closed = solve(plan, one, ws.alone_inputs).closed;
    copy_pose(t, ws, lane, one);
    return closed;
}

void load_numbers(const LaneTables& t, LaneWorkspace& ws, int lane, const Description& d) {
    for (std::size_t a = 0; a < t.anchor.size(); ++a) {
        const Anchor& anchor = d.anchors()[a];
        put(ws, t.anchor_local[a], lane, anchor.position);
        if (anchor.body == Description::ground) put(ws, t.anchor[a], lane, anchor.position);
    }
    for (std::size_t c = 0; c < t.length.size(); ++c) {
        const Closure& closure = d.closures()[c];
        if (closure.kind == ClosureKind::link) {
            ws.at(t.length[c], lane) = closure.length;
            ws.at(t.inverse_length[c], lane) = 1.0 / closure.length;
        }
        if (closure.kind != ClosureKind::slot) continue;
        put(ws, t.normal_local[c], lane, closure.normal);
        if (d.anchors()[closure.b.index].body == Description::ground) put(ws, t.normal[c], lane, closure.normal);
    }
    for (const int b : t.all_bodies) {
        const Body& body = d.bodies()[b];
        put(ws, t.bodies[b].joint_frame, lane, body.joint_frame);
        ws.at(t.code.neutral_side + 2 * b, lane) = std::cos(body.neutral.angle);
        ws.at(t.code.neutral_side + 2 * b + 1, lane) = std::sin(body.neutral.angle);
    }
    for (const auto& [slot, anchor, closure] : t.link_constants) {
        const double length = d.closures()[closure].length;
        ws.at(slot, lane) = 0.5 * (d.anchors()[anchor].position.squaredNorm() - length * length);
    }
    for (const auto& [slot, body, anchor] : t.crank_constants) {  // as `find_cranks`
        const Placement& frame = d.bodies()[body].joint_frame;
        const Vec3& p = d.anchors()[anchor].position;
        const Mat3& axes = frame.turn;
        put(ws, slot, lane, Vec3(frame.origin + p.z() * axes.col(2)));
        put(ws, slot + 3, lane, Vec3(p.x() * axes.col(0) + p.y() * axes.col(1)));
        put(ws, slot + 6, lane, Vec3(p.x() * axes.col(1) - p.y() * axes.col(0)));
    }
}

/// The lanes that closed, of those below `used`.
LaneSet run(const LanePlan& lane_plan, LaneWorkspace& ws, int used, bool at_neutral) {
    const LaneTables& t = lane_plan.tables();
    const int width = ws.kernel().width;
    static constexpr LaneValues none;
    const double* inputs = (ws.inputs.empty() ? none : ws.inputs.front()).of.data();
    LaneSet failed = 0;
    for (int g = 0; g * width < used; ++g)
        failed |= ws.kernel().solve(t.code, ws.group(g), ws.state[static_cast<std::size_t>(g)], inputs + g * width,
                                    at_neutral)
                  << (g * width);
    ws.unsettled = true;
    return ~failed & all_lanes;
}

}  // namespace

LaneWorkspace::LaneWorkspace(const Plan& plan, const LanePlan& lane_plan, const LaneKernel& kernel)
    : inputs(plan.inputs().size()),
      alone_inputs(inputs.size()),
      memory_(static_cast<std::size_t>(lane_plan.tables().slots)),
      kernel_(&kernel),
      slots_(lane_plan.tables().slots) {
    const Workspace neutral(plan);
    load_numbers(lane_plan.tables(), *this, 0, plan.description());
    copy_pose(lane_plan.tables(), *this, 0, neutral);
    for (int slot = 0; slot < slots_; ++slot) {
        const double value = at(slot, 0);
        for (int g = 0; g < groups(); ++g) std::fill_n(group(g) + slot * kernel_->width, kernel_->width, value);
    }
    for (std::size_t i = 0; i < inputs.size(); ++i) inputs[i].of.fill(neutral.inputs[i]);
    neutral_inputs = inputs;
}

long LaneWorkspace::newton_steps() const {
    long sum = 0;
    for (const LaneGroup& group : state) sum += group.newton_steps * kernel_->width;
    return sum;
}

LaneSet solve_lanes(const Plan& plan, const LanePlan& lane_plan, LaneWorkspace& ws, int used) {
    for (LaneValues& input : ws.inputs)
        for (int lane = used; lane < lanes; ++lane) input[lane] = input[used - 1];
    LaneSet closed = run(lane_plan, ws, used, false);
    if (closed == all_lanes) return closed & ((1U << used) - 1);
    for (int lane = 0; lane < lanes; ++lane)
        if (!(closed >> lane & 1U) && solve_alone(plan, lane_plan.tables(), ws, lane)) closed |= 1U << lane;
    return closed & ((1U << used) - 1);
}

LaneSet move_lanes(const LanePlan& lane_plan, LaneWorkspace& ws) {
    return run(lane_plan, ws, lanes, false);
}

void reset_lanes(const Plan& plan, const LanePlan& lane_plan, LaneWorkspace& ws) {
    const Workspace neutral(plan);
    for (int lane = 0; lane < lanes; ++lane) copy_pose(lane_plan.tables(), ws, lane, neutral);
    for (std::size_t i = 0; i < ws.inputs.size(); ++i) ws.inputs[i].of.fill(neutral.inputs[i]);
    ws.unsettled = false;
    forget(ws);
}

void forget(LaneWorkspace& ws) {
    for (LaneGroup& group : ws.state) group.stale = ~std::uint64_t{0};
}

LaneValues lane_angles(const LanePlan& lane_plan, const LaneWorkspace& ws, BodyId body) {
    const int slot = lane_plan.tables().bodies[body.index].at, width = ws.kernel().width;
    LaneValues out;
    for (int g = 0; g < ws.groups(); ++g) {
        const double* c = ws.group(g) + slot * width;
        ws.kernel().angles(c, c + width, out.of.data() + g * width, width);
    }
    return out;
}

LaneValues lane_angles(const LaneWorkspace& ws, const LaneValues& c, const LaneValues& s) {
    LaneValues out;
    ws.kernel().angles(c.of.data(), s.of.data(), out.of.data(), lanes);
    return out;
}

namespace {

LaneValues values(const LaneWorkspace& ws, int slot) {
    LaneValues out;
    for (int lane = 0; lane < lanes; ++lane) out[lane] = ws.at(slot, lane);
    return out;
}

}  // namespace

LaneValues lane_slides(const LanePlan& lane_plan, const LaneWorkspace& ws, BodyId body) {
    return values(ws, lane_plan.tables().bodies[body.index].at);
}

std::array<LaneValues, 3> lane_axes(const LanePlan& lane_plan, const LaneWorkspace& ws, BodyId body, int axis) {
    const int slot = lane_plan.tables().bodies[body.index].place + 3 * axis;
    return {values(ws, slot), values(ws, slot + 1), values(ws, slot + 2)};
}

LaneValues lane_residuals(const LanePlan& lane_plan, const LaneWorkspace& ws) {
    return values(ws, lane_plan.tables().code.residual);
}

void settle_lanes(const LanePlan& lane_plan, LaneWorkspace& ws) {
    if (!ws.unsettled) return;
    for (int g = 0; g < ws.groups(); ++g) ws.kernel().settle(lane_plan.tables().code, ws.group(g));
    ws.unsettled = false;
}

Placement lane_placement(const LanePlan& lane_plan, const LaneWorkspace& ws, BodyId body, int lane) {
    Placement out;
    if (body == Description::ground) return out;
    const int slot = lane_plan.tables().bodies[body.index].place;
    for (int i = 0; i < 3; ++i) out.turn.col(i) = vector_at(ws, slot + 3 * i, lane);
    out.origin = vector_at(ws, slot + 9, lane);
    return out;
}

Vec3 lane_point(const LanePlan& lane_plan, const LaneWorkspace& ws, AnchorId anchor, int lane) {
    return vector_at(ws, lane_plan.tables().anchor[anchor.index], lane);
}

namespace {

bool same_make(const Plan& plan, const Description& d) {
    const Description& own = plan.description();
    if (d.bodies().size() != own.bodies().size() || d.anchors().size() != own.anchors().size() ||
        d.closures().size() != own.closures().size())
        return false;
    for (std::size_t b = 1; b < d.bodies().size(); ++b) {
        const Plan::BodyPlan& body = plan.body(static_cast<int>(b));
        const Placement& frame = d.bodies()[b].joint_frame;
        if (body.level_frame && frame.turn != Mat3::Identity()) return false;
        if (body.plain_frame && (frame.turn != Mat3::Identity() || frame.origin != Vec3::Zero())) return false;
    }
    return true;
}

}  // namespace

bool load_lane(const Plan& plan, const LanePlan& lane_plan, LaneWorkspace& ws, int lane,
               const Description& description) {
    if (!same_make(plan, description)) return false;
    load_numbers(lane_plan.tables(), ws, lane, description);
    for (std::size_t i = 0; i < ws.inputs.size(); ++i) {
        const Body& body = description.bodies()[plan.inputs()[i].index];
        ws.neutral_inputs[i][lane] = body.joint == Joint::revolute ? body.neutral.angle : body.neutral.slide;
    }
    return true;
}

LaneSet start_lanes(const Plan& plan, const LanePlan& lane_plan, LaneWorkspace& ws) {
    const LaneTables& t = lane_plan.tables();
    for (int lane = 0; lane < lanes; ++lane) {
        for (const int b : t.all_bodies) put_joint(ws, t.bodies[b], t.bodies[b].at, lane, plan.neutral()[b]);
        for (const LaneInput& input : t.inputs) ws.at(input.value, lane) = not_a_number;
    }
    ws.inputs = ws.neutral_inputs;
    for (int g = 0; g < ws.groups(); ++g) ws.kernel().place_all(t.code, ws.group(g));
    forget(ws);
    return run(lane_plan, ws, lanes, true);
}

}  // namespace swashwright::linkage
