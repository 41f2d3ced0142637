#include "kinematics/linkage/tangent.h"

#include <algorithm>

#include "kinematics/linkage/rows.h"

namespace swashwright::linkage {

namespace {

bool shares(const Block& block) {
    return block.kind == BlockKind::shared || block.kind == BlockKind::single_shared;
}

/// Rate of a row's residual along the motion in `ws`, at a closed pose.
double row_rate(const Plan& plan, const Workspace& ws, const Row& row, const Changes& changes) {
    const Closure& closure = plan.description().closures()[row.closure];
    const int a = closure.a.index, b = closure.b.index;
    switch (closure.kind) {
        case ClosureKind::link:
            return (ws.anchors[b] - ws.anchors[a]).dot(ws.anchor_drift[b] - ws.anchor_drift[a]) / closure.length -
                   changes.length[row.closure];
        case ClosureKind::slot:
            return ws.normals[row.closure].dot(ws.anchor_drift[a] - ws.anchor_drift[b]) +
                   ws.normal_drift[row.closure].dot(ws.anchors[a] - ws.anchors[b]);
        case ClosureKind::coincidence:
            break;
    }
    return ws.anchor_drift[b][row.component] - ws.anchor_drift[a][row.component];
}

template <class Out>
void fill_jacobian(const Workspace& ws, const Block& block, Out&& row_of) {
    for (const Term& term : block.terms)
        add_term(ws, term, row_value(ws, block.rows[term.row]).gradient, row_of(term.row));
}

}  // namespace

Tangent::Tangent(const Plan& plan) : changes_(plan) {
    systems_.reserve(plan.blocks().size());
    for (const Block& block : plan.blocks()) systems_.emplace_back(block);
}

bool Tangent::at(const Plan& plan, Workspace& ws) {
    for (std::size_t i = 0; i < systems_.size(); ++i) {
        const Block& block = plan.blocks()[i];
        SharedSystem& system = systems_[i];
        if (!shares(block)) {
            system.lu = SmallLu<0>(block.unknowns);
            system.lu.clear();
            fill_jacobian(ws, block, [&](int row) { return &system.lu(row, 0); });
            if (!system.lu.factor()) return false;
            continue;
        }
        if (!find_multipliers(plan, ws, block, system) || !linearise_conditions(plan, ws, block, system)) return false;
    }
    return true;
}

void Tangent::enter(const Plan& plan, std::span<const Change> changes, std::vector<double>& rates) {
    for (const Change& change : changes) {
        const auto i = static_cast<std::size_t>(change.index);
        const Vec3& amount = change.amount;
        switch (change.what) {
            case Quantity::input:
                rates[4 * static_cast<std::size_t>(plan.inputs()[i].index)] += amount.x();
                break;
            case Quantity::length:
                changes_.length[i] += amount.x();
                break;
            case Quantity::anchor_position:
                changes_.anchor_shift[i] += amount;
                break;
            case Quantity::frame_origin:
                changes_.frame_shift[i] += amount;
                break;
            case Quantity::frame_turn:
                changes_.frame_turn[i] += amount;
                break;
            case Quantity::slot_normal:
                changes_.normal_turn[i] += amount;
                break;
        }
    }
}

void Tangent::solve_block(const Plan& plan, Workspace& ws, std::size_t index) {
    const Block& block = plan.blocks()[index];
    double step[max_block];
    for (const int body : block.bodies) move_body(plan, ws, body, &changes_);
    if (shares(block)) {
        conditions_along(plan, ws, block, systems_[index], &changes_, step);
    } else {
        for (int r = 0; r < block.unknowns; ++r) step[r] = row_rate(plan, ws, block.rows[r], changes_);
    }
    systems_[index].lu.solve(step);
    for (std::size_t j = 0; j < block.joints.size(); ++j) {
        double* rates = &ws.rates[4 * static_cast<std::size_t>(block.joints[j])];
        for (int k = 0; k < freedoms(plan.body(block.joints[j]).joint); ++k) rates[k] = -step[block.columns[j] + k];
    }
    for (const int body : block.bodies) move_body(plan, ws, body, &changes_);
}

void Tangent::along(const Plan& plan, Workspace& ws, std::span<const Change> changes) {
    std::fill(ws.rates.begin(), ws.rates.end(), 0.0);
    enter(plan, changes, ws.rates);
    move_ground(plan, ws, &changes_);
    for (const Plan::Crank& crank : plan.cranks()) move_body(plan, ws, crank.body, &changes_);
    for (const int body : plan.driven_bodies()) move_body(plan, ws, body, &changes_);
    for (std::size_t i = 0; i < plan.blocks().size(); ++i) solve_block(plan, ws, i);
    // Put the dense tables back to zero by the same list.
    for (const Change& change : changes) {
        const auto i = static_cast<std::size_t>(change.index);
        switch (change.what) {
            case Quantity::input:
                break;
            case Quantity::length:
                changes_.length[i] = 0;
                break;
            case Quantity::anchor_position:
                changes_.anchor_shift[i].setZero();
                break;
            case Quantity::frame_origin:
                changes_.frame_shift[i].setZero();
                break;
            case Quantity::frame_turn:
                changes_.frame_turn[i].setZero();
                break;
            case Quantity::slot_normal:
                changes_.normal_turn[i].setZero();
                break;
        }
    }
}

namespace {

/// `RowMajor`: a matrix whose rows lie one behind another, large enough for the block.
template <class RowMajor>
RowMajor scaled(const Workspace& ws, const Block& block) {
    RowMajor jacobian = RowMajor::Zero(static_cast<Eigen::Index>(block.rows.size()), block.unknowns);
    fill_jacobian(ws, block, [&](int row) { return jacobian.row(row).data(); });
    for (int k = 0; k < block.unknowns; ++k)
        if (!block.slides(k)) jacobian.col(k) /= block.lever;
    return jacobian;
}

template <int Most>
using RowsOf = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor, Most, Most>;

}  // namespace

Eigen::MatrixXd scaled_jacobian(const Workspace& ws, const Block& block) {
    return scaled<RowsOf<Eigen::Dynamic>>(ws, block);
}

double distance_to_dead_point(const Workspace& ws, const Block& block) {
    constexpr int most = 6;  // up to here without a heap: envelopes ask at every pose
    const bool small = block.unknowns <= most && block.rows.size() <= most;
    if (small && block.unknowns == 1) return scaled<RowsOf<most>>(ws, block).norm();
    if (small) return scaled<RowsOf<most>>(ws, block).jacobiSvd().singularValues().minCoeff();
    return scaled_jacobian(ws, block).jacobiSvd().singularValues().minCoeff();
}

}  // namespace swashwright::linkage
