#include "kinematics/linkage/fit.h"

#include <fmt/format.h>
#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

#include "kinematics/linkage/place.h"
#include "kinematics/linkage/rows.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::linkage {

namespace {

constexpr double closed_enough = 1e-7;  // mm: far below what can be measured, far above what a fit leaves
constexpr double stiff = 1e4;           // weight of rows that must hold while one link gives

Eigen::VectorXd weighted_residuals(const Workspace& ws, const Block& block, std::span<const double> weights) {
    Eigen::VectorXd r(block.rows.size());
    for (std::size_t i = 0; i < block.rows.size(); ++i)
        r[static_cast<Eigen::Index>(i)] = weights[i] * row_value(ws, block.rows[i]).residual;
    return r;
}

double largest_error(const Workspace& ws, const Block& block) {
    double worst = 0;
    for (const Row& row : block.rows) worst = std::max(worst, std::abs(closure_error(ws, row)));
    return worst;
}

std::vector<JointState> joints_of(const Workspace& ws, const Block& block) {
    std::vector<JointState> out;
    for (const int joint : block.joints) out.push_back(ws.joints[joint]);
    return out;
}

void put_joints(const Plan& plan, Workspace& ws, const Block& block, const std::vector<JointState>& joints) {
    for (std::size_t i = 0; i < joints.size(); ++i) ws.joints[block.joints[i]] = joints[i];
    place_block(plan, ws, block);
}

/// A circle's nearest point, and the length or offset missing there.
std::vector<Shortfall> explain_circle(const Plan& plan, Workspace& ws, const Block& block) {
    const Circle circle = circle_of(plan, ws, block, 0);
    const double norm = std::copysign(std::hypot(circle.a, circle.b), circle.c);
    JointState& joint = ws.joints[block.joints[0]];
    if (std::abs(norm) > 0) {
        joint.c = circle.a / norm;
        joint.s = circle.b / norm;
    }
    place_block(plan, ws, block);
    return {{ClosureId{block.rows[0].closure}, closure_error(ws, block.rows[0])}};
}

}  // namespace

double fit_block(const Plan& plan, Workspace& ws, const Block& block, std::span<const double> weights) {
    double damping = 1e-3;
    Eigen::VectorXd r = weighted_residuals(ws, block, weights);
    std::vector<double> step(static_cast<std::size_t>(block.unknowns));
    for (int round = 0; round < 200 && damping < 1e12; ++round) {
        Eigen::MatrixXd jacobian = scaled_jacobian(ws, block);
        for (Eigen::Index i = 0; i < jacobian.rows(); ++i) jacobian.row(i) *= weights[static_cast<std::size_t>(i)];
        const Eigen::VectorXd gradient = jacobian.transpose() * r;
        if (!(gradient.cwiseAbs().maxCoeff() > 1e-15)) break;
        Eigen::MatrixXd normal = jacobian.transpose() * jacobian;
        normal.diagonal() +=
            Eigen::VectorXd::Constant(normal.rows(), damping * std::max(1e-12, normal.diagonal().maxCoeff()));
        const Eigen::VectorXd move = -normal.ldlt().solve(gradient);
        if (!move.allFinite()) break;
        for (int k = 0; k < block.unknowns; ++k)
            step[static_cast<std::size_t>(k)] = block.slides(k) ? move[k] : move[k] / block.lever;
        const auto before = joints_of(ws, block);
        move_joints(plan, ws, block, step.data());
        const Eigen::VectorXd next = weighted_residuals(ws, block, weights);
        if (next.squaredNorm() < r.squaredNorm()) {
            const bool settled = move.norm() < 1e-13 * std::max(1.0, block.lever);
            r = next;
            damping = std::max(1e-14, damping * 0.2);
            if (settled) break;
        } else {
            put_joints(plan, ws, block, before);
            damping *= 8;
        }
    }
    return largest_error(ws, block);
}

std::vector<Shortfall> explain_block(const Plan& plan, Workspace& ws, const Block& block) {
    if (block.kind == BlockKind::single || block.kind == BlockKind::single_shared)
        return explain_circle(plan, ws, block);
    std::vector<double> weights(block.rows.size(), 1.0);
    fit_block(plan, ws, block, weights);  // a start from which each single-link fit is near
    const auto balanced = joints_of(ws, block);
    std::vector<JointState> best_joints = balanced;
    std::vector<Shortfall> best;
    for (std::size_t i = 0; i < block.rows.size(); ++i) {
        const int closure = block.rows[i].closure;
        if (plan.description().closures()[closure].kind != ClosureKind::link) continue;
        std::fill(weights.begin(), weights.end(), stiff);
        weights[i] = 1.0;
        put_joints(plan, ws, block, balanced);
        fit_block(plan, ws, block, weights);
        const double missing = closure_error(ws, block.rows[i]);
        double others = 0;
        for (std::size_t k = 0; k < block.rows.size(); ++k)
            if (k != i) others = std::max(others, std::abs(closure_error(ws, block.rows[k])));
        if (others > 1e-3) continue;  // another one is out of reach as well
        if (best.empty() || std::abs(missing) < std::abs(best[0].missing_mm)) {
            best = {{ClosureId{closure}, missing}};
            best_joints = joints_of(ws, block);
        }
    }
    put_joints(plan, ws, block, best_joints);
    return best;
}

std::vector<Shortfall> solve_nearest(const Plan& plan, Workspace& ws, std::span<const double> inputs) {
    std::vector<Shortfall> all;
    if (solve(plan, ws, inputs).closed) return all;
    drive(plan, ws, inputs);
    for (const Block& block : plan.blocks()) {
        const auto start = joints_of(ws, block);
        Report report;
        enter_block(plan, ws, block);
        place_block(plan, ws, block);
        if (solve_block(plan, ws, block, report) == Outcome::closed) continue;
        put_joints(plan, ws, block, start);
        if (block.kind == BlockKind::square || block.kind == BlockKind::shared) {
            std::vector<double> weights(block.rows.size(), 1.0);
            for (int i = 0; i < block.exact; ++i)
                if (block.kind == BlockKind::shared) weights[i] = stiff;
            if (fit_block(plan, ws, block, weights) < closed_enough || block.kind == BlockKind::shared) continue;
        }
        const auto found = explain_block(plan, ws, block);
        all.insert(all.end(), found.begin(), found.end());
    }
    ws.stale = ~std::uint64_t{0};
    return all;
}

std::string sentence(const Plan& plan, const Shortfall& shortfall) {
    const Closure& closure = plan.description().closures()[shortfall.closure.index];
    const double mm = std::abs(shortfall.missing_mm);
    const bool short_of = shortfall.missing_mm > 0;
    if (closure.kind == ClosureKind::link) {
        if (plan.neutral_shortfalls().empty())
            return fmt::format("the balls that {} joins are {:.2f} mm too {}", closure.name, mm,
                               short_of ? "far apart" : "close together");
        return fmt::format("{} is {:.2f} mm too {} to reach", closure.name, mm, short_of ? "short" : "long");
    }
    return fmt::format("{} misses its guide by {:.2f} mm", closure.name, mm);
}

}  // namespace swashwright::linkage
