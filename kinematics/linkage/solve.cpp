#include "kinematics/linkage/solve.h"

#include <algorithm>
#include <cmath>

#include "kinematics/linkage/one_body.h"
#include "kinematics/linkage/place.h"
#include "kinematics/linkage/rows.h"
#include "kinematics/linkage/small_lu.h"

namespace swashwright::linkage {

namespace {

constexpr int max_path_halvings = 12;

void place_revolute(const Plan& plan, Workspace& ws, const Block& block, double c, double s) {
    JointState& joint = ws.joints[block.joints[0]];
    joint.c = c;
    joint.s = s;
    place_block(plan, ws, block);
}

/// a cos + b sin = c on the side of the pole that `branch` names. False if the circle does not reach.
bool solve_circle(const Circle& circle, double branch, double& c, double& s) {
    const double square = circle.a * circle.a + circle.b * circle.b;
    const double rest = square - circle.c * circle.c;
    if (!(rest >= 0) || !(square > 0)) return false;
    const double root = branch * std::sqrt(rest), inverse = 1.0 / square;
    c = (circle.a * circle.c - circle.b * root) * inverse;
    s = (circle.b * circle.c + circle.a * root) * inverse;
    return true;
}

Outcome solve_single(const Plan& plan, Workspace& ws, const Block& block, Report& report) {
    double c = 0, s = 0;
    if (!solve_circle(circle_of(plan, ws, block, 0), block.branch, c, s)) return Outcome::out_of_reach;
    place_revolute(plan, ws, block, c, s);
    report.residual_mm = std::max(report.residual_mm, std::abs(row_value(ws, block.rows[0]).residual));
    return Outcome::closed;
}

/// The joint of a leaf that hangs on a link; neither its joint frame nor its body is placed.
Outcome solve_leaf(const Plan& plan, Workspace& ws, const Block& block, Report& report) {
    JointState& joint = ws.joints[block.joints[0]];
    const Plan::BodyPlan& body = plan.body(block.joints[0]);
    const Placement& parent = ws.bodies[body.parent];
    const Vec3 in_parent = parent.turn.transpose() * (ws.anchors[block.link_circle->other] - parent.origin);
    const Circle circle =
        circle_of(*block.link_circle, body.joint_frame.turn.transpose() * (in_parent - body.joint_frame.origin));
    if (!solve_circle(circle, block.branch, joint.c, joint.s)) return Outcome::out_of_reach;
    ws.leaves_unsettled = true;
    const double residual = circle.scale * (circle.a * joint.c + circle.b * joint.s - circle.c);
    report.residual_mm = std::max(report.residual_mm, std::abs(residual));
    return Outcome::closed;
}

/// One rotation, several closures that give: least squares in one angle, begun where the first one closes.
Outcome solve_single_shared(const Plan& plan, Workspace& ws, const Block& block, Report& report) {
    Circle circles[max_block];
    const int rows = static_cast<int>(block.rows.size());
    for (int i = 0; i < rows; ++i) circles[i] = circle_of(plan, ws, block, i);
    double c = 1, s = 0;
    const Circle& first = circles[0];
    if (!solve_circle(first, block.branch, c, s)) {  // as near as it comes
        const double norm = std::copysign(std::hypot(first.a, first.b), first.c);
        if (!(std::abs(norm) > 0)) return Outcome::out_of_reach;
        c = first.a / norm;
        s = first.b / norm;
    }
    for (int step = 0; step < 2 * max_newton_steps; ++step) {
        double slope = 0, curvature = 0;
        for (int i = 0; i < rows; ++i) {
            const Circle& circle = circles[i];
            const double turning = circle.scale * (circle.b * c - circle.a * s);
            const double value = circle.scale * (circle.a * c + circle.b * s - circle.c);
            slope += value * turning;
            curvature += turning * turning - value * circle.scale * (circle.a * c + circle.b * s);
        }
        ++report.newton_steps;
        if (!(curvature > 0)) return Outcome::astray;
        const double turn = -slope / curvature;
        if (std::abs(turn) > first_step_limit) return Outcome::astray;
        const double norm = 1.0 / std::sqrt(1.0 + turn * turn), next = (c - s * turn) * norm;
        s = (s + c * turn) * norm;
        c = next;
        if (std::abs(turn) < 1e-8) break;  // the step just taken leaves an error of its square
    }
    place_revolute(plan, ws, block, c, s);
    return Outcome::closed;
}

template <int N>
Outcome solve_square(const Plan& plan, Workspace& ws, const Block& block, Report& report) {
    const int n = block.unknowns;
    SmallLu<N> lu(n);
    double step[N ? N : max_block];
    Vec3 gradients[N ? N : max_block];
    double last = 0;
    for (int round = 0; round <= max_newton_steps; ++round) {
        double worst = 0;
        for (int i = 0; i < n; ++i) {
            const RowValue value = row_value(ws, block.rows[i]);
            step[i] = -value.residual;
            gradients[i] = value.gradient;
            worst = std::max(worst, std::abs(value.residual));
        }
        if (!std::isfinite(worst)) return Outcome::astray;
        if (worst <= plan.tolerance() && round > 0) {
            report.residual_mm = std::max(report.residual_mm, worst);
            return Outcome::closed;
        }
        if (round == max_newton_steps) break;
        lu.clear();
        for (const Term& term : block.terms) add_term(ws, term, gradients[term.row], &lu(term.row, 0));
        if (!lu.factor()) return Outcome::astray;
        if (lu.determinant_sign() != block.branch) return Outcome::astray;
        lu.solve(step);
        ++report.newton_steps;
        const double size = step_size<N>(block, step);
        if (size > (round == 0 ? first_step_limit : std::max(contraction * last, least_step))) return Outcome::astray;
        last = size;
        move_joints(plan, ws, block, step);
    }
    return Outcome::astray;
}

Outcome try_inputs(const Plan& plan, Workspace& ws, std::span<const double> inputs, Report& report) {
    drive(plan, ws, inputs);
    const auto& blocks = plan.blocks();
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        if (!(blocks[i].inputs & ws.stale)) continue;
        const Outcome outcome = solve_block(plan, ws, blocks[i], report, false);
        if (outcome != Outcome::closed) {
            report.failed_block = static_cast<int>(i);
            return outcome;
        }
    }
    ws.stale = 0;
    return Outcome::closed;
}

void keep(const Plan& plan, Workspace& ws) {
    for (const int joint : plan.followed_joints()) ws.good_joints[joint] = ws.joints[joint];
    std::copy(ws.inputs.begin(), ws.inputs.end(), ws.good_inputs.begin());
}

/// Back to the last pose that was kept, so that Newton starts from there. Closed-form blocks need no start.
void go_back(const Plan& plan, Workspace& ws) {
    for (const int joint : plan.followed_joints()) ws.joints[joint] = ws.good_joints[joint];
    ws.stale = ~std::uint64_t{0};
}

/// From the kept pose, at `ws.path_from`, to `ws.path_to`, in steps that are halved until each can be trusted.
bool walk(const Plan& plan, Workspace& ws, Report& report) {
    double at = 0, stride = 0.5;
    const double shortest = std::ldexp(1.0, -max_path_halvings);
    while (at < 1) {
        const double to = std::min(1.0, at + stride);
        for (std::size_t i = 0; i < ws.path_here.size(); ++i)
            ws.path_here[i] = to == 1.0 ? ws.path_to[i] : ws.path_from[i] + to * (ws.path_to[i] - ws.path_from[i]);
        report.residual_mm = 0;
        ++report.path_steps;
        if (try_inputs(plan, ws, ws.path_here, report) == Outcome::closed) {
            keep(plan, ws);
            at = to;
            stride *= 2;
        } else {
            go_back(plan, ws);
            stride /= 2;
            if (stride < shortest) return false;
        }
    }
    return true;
}

}  // namespace

Outcome solve_block(const Plan& plan, Workspace& ws, const Block& block, Report& report, bool place_leaf) {
    if (block.leaf && block.link_circle && !place_leaf) return solve_leaf(plan, ws, block, report);
    enter_block(plan, ws, block);
    if (block.one_body) return solve_one_body(plan, ws, block, report);
    if (block.kind == BlockKind::square || block.kind == BlockKind::shared) place_block(plan, ws, block);
    switch (block.kind) {
        case BlockKind::single:
            return solve_single(plan, ws, block, report);
        case BlockKind::single_shared:
            return solve_single_shared(plan, ws, block, report);
        case BlockKind::shared:
            return solve_shared(plan, ws, block, report);
        case BlockKind::square:
            break;
    }
    switch (block.unknowns) {
        case 1:
            return solve_square<1>(plan, ws, block, report);
        case 2:
            return solve_square<2>(plan, ws, block, report);
        case 3:
            return solve_square<3>(plan, ws, block, report);
        case 4:
            return solve_square<4>(plan, ws, block, report);
        case 5:
            return solve_square<5>(plan, ws, block, report);
        case 6:
            return solve_square<6>(plan, ws, block, report);
        default:
            return solve_square<0>(plan, ws, block, report);
    }
}

void settle(const Plan& plan, Workspace& ws) {
    if (ws.cranks_unsettled)
        for (const Plan::Crank& crank : plan.cranks()) place_body(plan, ws, crank.body);
    if (ws.leaves_unsettled) {
        for (const Block& block : plan.blocks()) {
            if (!block.leaf) continue;
            enter_block(plan, ws, block);
            place_block(plan, ws, block);
        }
    }
    ws.cranks_unsettled = ws.leaves_unsettled = false;
}

Report solve(const Plan& plan, Workspace& ws, std::span<const double> inputs) {
    const Report report = solve_joints(plan, ws, inputs);
    settle(plan, ws);
    return report;
}

Report solve_joints(const Plan& plan, Workspace& ws, std::span<const double> inputs) {
    Report report;
    report.path_steps = 1;
    if (try_inputs(plan, ws, inputs, report) == Outcome::closed) {
        keep(plan, ws);
        report.closed = true;
        return report;
    }
    go_back(plan, ws);
    std::copy(inputs.begin(), inputs.end(), ws.path_to.begin());
    std::copy(ws.good_joints.begin(), ws.good_joints.end(), ws.path_joints.begin());
    std::copy(ws.good_inputs.begin(), ws.good_inputs.end(), ws.path_from.begin());
    report.closed = walk(plan, ws, report);
    if (report.closed) {
        report.failed_block = -1;
        return report;
    }
    std::copy(ws.path_joints.begin(), ws.path_joints.end(), ws.good_joints.begin());
    std::copy(ws.path_from.begin(), ws.path_from.end(), ws.good_inputs.begin());
    go_back(plan, ws);
    Report ignored;
    try_inputs(plan, ws, ws.path_from, ignored);
    return report;
}

void reset(const Plan& plan, Workspace& ws) {
    std::copy(plan.neutral().begin(), plan.neutral().end(), ws.joints.begin());
    std::copy(plan.neutral().begin(), plan.neutral().end(), ws.good_joints.begin());
    std::copy(plan.neutral_inputs().begin(), plan.neutral_inputs().end(), ws.inputs.begin());
    std::copy(plan.neutral_inputs().begin(), plan.neutral_inputs().end(), ws.good_inputs.begin());
    place_all(plan, ws);
    ws.cranks_unsettled = ws.leaves_unsettled = false;
    ws.stale = ~std::uint64_t{0};
}

Report solve_from_neutral(const Plan& plan, Workspace& ws, std::span<const std::vector<double>> way) {
    reset(plan, ws);
    Report total;
    total.closed = true;
    for (const auto& inputs : way) {
        const Report leg = solve(plan, ws, inputs);
        total.newton_steps += leg.newton_steps;
        total.path_steps += leg.path_steps;
        total.residual_mm = leg.residual_mm;
        total.failed_block = leg.failed_block;
        total.closed = leg.closed;
        if (!leg.closed) break;
    }
    return total;
}

}  // namespace swashwright::linkage
