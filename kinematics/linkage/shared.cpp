#include "kinematics/linkage/shared.h"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

#include "kinematics/linkage/conditions.h"
#include "kinematics/linkage/place.h"
#include "kinematics/linkage/rows.h"
#include "kinematics/linkage/solve.h"

namespace swashwright::linkage {

namespace {

/// A value and its derivative along one motion.
struct Dual {
    double v = 0, d = 0;
    friend Dual operator+(Dual a, Dual b) { return {a.v + b.v, a.d + b.d}; }
    friend Dual operator-(Dual a, Dual b) { return {a.v - b.v, a.d - b.d}; }
    friend Dual operator*(Dual a, Dual b) { return {a.v * b.v, a.v * b.d + a.d * b.v}; }
    friend Dual operator/(Dual a, Dual b) { return {a.v / b.v, (a.d - a.v / b.v * b.d) / b.v}; }
    friend Dual sqrt(Dual a) { return {std::sqrt(a.v), a.d / (2 * std::sqrt(a.v))}; }
};

struct DualVec {
    Dual x, y, z;
    friend DualVec operator-(const DualVec& a, const DualVec& b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
    friend DualVec operator*(Dual s, const DualVec& a) { return {s * a.x, s * a.y, s * a.z}; }
    Dual dot(const DualVec& o) const { return x * o.x + y * o.y + z * o.z; }
    DualVec cross(const DualVec& o) const { return {y * o.z - z * o.y, z * o.x - x * o.z, x * o.y - y * o.x}; }
};

DualVec dual(const Vec3& value, const Vec3& rate) {
    return {{value.x(), rate.x()}, {value.y(), rate.y()}, {value.z(), rate.z()}};
}

struct DualRow {
    Dual residual;
    DualVec gradient;
};

DualRow dual_row(const Plan& plan, const Workspace& ws, const Row& row, const Changes* changes) {
    const Closure& closure = plan.description().closures()[row.closure];
    const DualVec a = dual(ws.anchors[closure.a.index], ws.anchor_drift[closure.a.index]);
    const DualVec b = dual(ws.anchors[closure.b.index], ws.anchor_drift[closure.b.index]);
    switch (closure.kind) {
        case ClosureKind::link: {
            const DualVec span = b - a;
            const Dual distance = sqrt(span.dot(span));
            const Dual length{closure.length, changes ? changes->length[row.closure] : 0.0};
            return {distance - length, Dual{1, 0} / distance * span};
        }
        case ClosureKind::slot: {
            const DualVec n = dual(ws.normals[row.closure], ws.normal_drift[row.closure]);
            return {n.dot(a - b), n};
        }
        case ClosureKind::coincidence:
            break;
    }
    const Vec3 unit = Vec3::Unit(row.component);
    const DualVec axis = dual(unit, Vec3::Zero());
    return {axis.dot(b - a), axis};
}

/// The derivative of a row by one joint's unknowns, as `add_term` has it.
void add_dual_term(const Workspace& ws, const Term& term, const DualVec& gradient, Dual* out) {
    const int body = term.body;
    const Placement& frame = ws.frames[body];
    const DualVec point = dual(ws.anchors[term.anchor], ws.anchor_drift[term.anchor]);
    const Vec3 z = frame.turn.col(2);
    const DualVec axis = dual(z, ws.frame_spin[body].cross(z));
    const Dual sign{term.sign, 0};
    Dual* d = out + term.column;
    const bool slides = term.joint == Joint::prismatic || term.joint == Joint::slide_and_ball;
    if (slides) {
        *d = *d + sign * axis.dot(gradient);
        ++d;
    }
    if (term.joint == Joint::revolute) {
        const DualVec arm = point - dual(frame.origin, ws.frame_drift[body]);
        *d = *d + sign * axis.dot(arm.cross(gradient));
    } else if (term.joint == Joint::ball || term.joint == Joint::slide_and_ball) {
        const DualVec moment = sign * (point - dual(ws.bodies[body].origin, ws.drift[body])).cross(gradient);
        d[0] = d[0] + moment.x;
        d[1] = d[1] + moment.y;
        d[2] = d[2] + moment.z;
    }
}

/// Adds one row's part in the conditions and in their change along the motion in `ws`.
void add_row(const Plan& plan, const Workspace& ws, const Block& block, int r, const double* multipliers,
             const Changes* changes, Dual* out) {
    const int n = block.unknowns;
    const DualRow row = dual_row(plan, ws, block.rows[r], changes);
    const bool exact = r < block.exact;
    const Dual weight = exact ? Dual{multipliers[r], 0} : row.residual;
    const auto weigh = [&](Dual* slopes) {
        for (const Term& term : block.terms)
            if (term.row == r) add_dual_term(ws, term, row.gradient, slopes);
        for (int k = 0; k < n; ++k) out[k] = out[k] + weight * slopes[k];
    };
    constexpr int few = 4;  // most blocks: no more than those are put to zero
    if (n <= few) {
        Dual slopes[few];
        weigh(slopes);
    } else {
        Dual slopes[max_block];
        weigh(slopes);
    }
    if (exact) out[n + r] = row.residual;
}

/// Conditions and their change along the motion in `ws`.
void dual_conditions(const Plan& plan, const Workspace& ws, const Block& block, const double* multipliers,
                     const Changes* changes, Dual* out) {
    for (int i = 0; i < block.unknowns + block.exact; ++i) out[i] = {};
    for (int r = 0; r < static_cast<int>(block.rows.size()); ++r)
        add_row(plan, ws, block, r, multipliers, changes, out);
}

void hold_still(Workspace& ws) {
    for (auto* field : {&ws.spin, &ws.drift, &ws.frame_spin, &ws.frame_drift, &ws.anchor_drift, &ws.normal_drift})
        std::fill(field->begin(), field->end(), Vec3::Zero());
    std::fill(ws.rates.begin(), ws.rates.end(), 0.0);
}

/// The conditions' derivatives into `system.lu`, not factored.
void fill_derivatives(const Plan& plan, Workspace& ws, const Block& block, SharedSystem& system) {
    const int n = block.unknowns;
    system.lu.clear();
    hold_still(ws);
    double along[max_block];
    for (std::size_t j = 0; j < block.joints.size(); ++j) {
        double* rates = &ws.rates[4 * static_cast<std::size_t>(block.joints[j])];
        for (int k = 0; k < freedoms(plan.body(block.joints[j]).joint); ++k) {
            rates[k] = 1;
            for (const int body : block.bodies) move_body(plan, ws, body, nullptr);
            conditions_along(plan, ws, block, system, nullptr, along);
            for (int i = 0; i < n + block.exact; ++i) system.lu(i, block.columns[j] + k) = along[i];
            for (int e = 0; e < block.exact; ++e) system.lu(block.columns[j] + k, n + e) = along[n + e];
            rates[k] = 0;
        }
    }
}

/// Is the sum of squares curved upwards along every motion that the exact rows leave free, as it is about a minimum?
/// The determinant's sign does not tell: a saddle that falls away along two motions has a minimum's. So a Cholesky
/// decomposition of the second derivatives plus a large multiple of Je' Je must exist (Nocedal and Wright, Numerical
/// Optimization, 2nd edition, theorem 17.5). `system` is filled and not yet factored.
bool curved_upwards(const Block& block, SharedSystem& system) {
    constexpr double stiff = 1e6;
    const int n = block.unknowns;
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, max_block, max_block> curvature(n, n);
    for (int i = 0; i < n; ++i)
        for (int j = 0; j <= i; ++j) {  // the lower half is read; off a minimum a ball's two halves differ a little
            double value = 0.5 * (system.lu(i, j) + system.lu(j, i));
            for (int e = n; e < n + block.exact; ++e) value += stiff * system.lu(e, i) * system.lu(e, j);
            curvature(i, j) =
                value / (block.as_angle[static_cast<std::size_t>(i)] * block.as_angle[static_cast<std::size_t>(j)]);
        }
    return curvature.llt().info() == Eigen::Success;
}

/// From the pose and the multipliers for which `system` was linearised.
void newton_step(const Plan& plan, const Workspace& ws, const Block& block, SharedSystem& system, double* step) {
    evaluate_conditions(plan, ws, block, system);
    for (int i = 0; i < block.unknowns + block.exact; ++i) step[i] = -system.conditions[i];
    system.lu.solve(step);
}

}  // namespace

void evaluate_conditions(const Plan& plan, const Workspace& ws, const Block& block, SharedSystem& system) {
    Dual out[max_block];
    dual_conditions(plan, ws, block, system.multipliers, nullptr, out);
    for (int i = 0; i < block.unknowns + block.exact; ++i) system.conditions[i] = out[i].v;
}

void conditions_along(const Plan& plan, const Workspace& ws, const Block& block, const SharedSystem& system,
                      const Changes* changes, double* result) {
    Dual out[max_block];
    dual_conditions(plan, ws, block, system.multipliers, changes, out);
    for (int i = 0; i < block.unknowns + block.exact; ++i) result[i] = out[i].d;
}

void add_row_along(const Plan& plan, const Workspace& ws, const Block& block, const SharedSystem& system, int row,
                   const Changes* changes, double* result) {
    Dual out[max_block] = {};
    add_row(plan, ws, block, row, system.multipliers, changes, out);
    for (int i = 0; i < block.unknowns + block.exact; ++i) result[i] += out[i].d;
}

bool linearise_conditions(const Plan& plan, Workspace& ws, const Block& block, SharedSystem& system) {
    fill_derivatives(plan, ws, block, system);
    return system.lu.factor();
}

bool find_multipliers(const Plan& plan, Workspace& ws, const Block& block, SharedSystem& system) {
    std::fill(std::begin(system.multipliers), std::end(system.multipliers), 0.0);
    if (block.exact == 0) return true;
    if (!linearise_conditions(plan, ws, block, system)) return false;
    double step[max_block];
    newton_step(plan, ws, block, system, step);
    std::copy_n(step + block.unknowns, block.exact, system.multipliers);
    return true;
}

Outcome solve_shared(const Plan& plan, Workspace& ws, const Block& block, Report& report) {
    constexpr double settled = 1e-10;  // rad, or mm over the block's lever
    SharedSystem system(block);
    if (!find_multipliers(plan, ws, block, system)) return Outcome::astray;
    double last = 0;
    for (int round = 0; round < max_newton_steps; ++round) {
        fill_derivatives(plan, ws, block, system);
        if (!curved_upwards(block, system) || !system.lu.factor()) return Outcome::astray;
        double step[max_block];
        newton_step(plan, ws, block, system, step);
        ++report.newton_steps;
        const double size = step_size<0>(block, step);
        if (!(size <= (round == 0 ? first_step_limit : std::max(contraction * last, least_step))))
            return Outcome::astray;
        last = size;
        for (int e = 0; e < block.exact; ++e) system.multipliers[e] += step[block.unknowns + e];
        move_joints(plan, ws, block, step);
        if (size < settled) {
            for (int e = 0; e < block.exact; ++e)
                report.residual_mm = std::max(report.residual_mm, std::abs(closure_error(ws, block.rows[e])));
            return Outcome::closed;
        }
    }
    return Outcome::astray;
}

}  // namespace swashwright::linkage
