#include "kinematics/linkage/adjoint.h"

#include <algorithm>

namespace swashwright::linkage {

namespace {

/// Adds what a body's spin along `weight` is by the joint's freedoms.
void add_spin(const Workspace& ws, const Term& arm, const Vec3& weight, double* out) {
    if (arm.joint == Joint::revolute) out[0] += ws.frames[arm.body].turn.col(2).dot(weight);
    if (arm.joint != Joint::ball && arm.joint != Joint::slide_and_ball) return;
    double* const turns = out + (arm.joint == Joint::ball ? 0 : 1);
    for (int i = 0; i < 3; ++i) turns[i] += weight[i];
}

}  // namespace

Adjoint::Adjoint(const Plan& plan, std::vector<Reading> readings, std::span<const std::vector<Change>> columns)
    : linearised_(plan),
      readings_(std::move(readings)),
      touches_(plan, linearised_, readings_, columns),
      width_(even(static_cast<int>(readings_.size()))) {
    const auto wide = [&](std::size_t count) { return count * static_cast<std::size_t>(width_); };
    for (const Reading& reading : readings_)
        for (const ReadingTerm& term : reading) {
            auto& arms = arms_.emplace_back();
            if (term.what == ReadingTerm::What::rate) continue;
            const bool point = term.what == ReadingTerm::What::point;
            const int body =
                point ? plan.description().anchors()[static_cast<std::size_t>(term.index)].body.index : term.index;
            for (const int joint : chain_of(plan, body))
                arms.push_back({0, point ? term.index : 0, joint, 0, plan.body(joint).joint, 1.0});
        }
    weights_.resize(wide(4 * plan.description().bodies().size()));
    multipliers_.resize(wide(static_cast<std::size_t>(linearised_.rows()) + arms_.size()));
    table_.resize(wide(columns.size()));
    // A reading's own term counts as it is: the product takes rows off.
    std::size_t row = static_cast<std::size_t>(linearised_.rows());
    for (std::size_t s = 0; s < readings_.size(); ++s)
        for (std::size_t t = 0; t < readings_[s].size(); ++t) multipliers_[wide(row++) + s] = -1;
}

void Adjoint::weigh(const Workspace& ws) {
    std::fill(weights_.begin(), weights_.end(), 0.0);
    std::size_t index = 0;
    for (std::size_t s = 0; s < readings_.size(); ++s)
        for (const ReadingTerm& term : readings_[s]) {
            const auto weight_of = [&](int freedom) -> double& {
                return weights_[static_cast<std::size_t>(freedom * width_) + s];
            };
            if (term.what == ReadingTerm::What::rate) weight_of(4 * term.index + term.k) += term.weight.x();
            for (const Term& arm : arms_[index]) {
                double by[4] = {};
                if (term.what == ReadingTerm::What::point)
                    add_term(ws, arm, term.weight, by);
                else
                    add_spin(ws, arm, term.weight, by);
                for (int k = 0; k < freedoms(arm.joint); ++k) weight_of(4 * arm.body + k) += by[k];
            }
            ++index;
        }
}

bool Adjoint::at(const Plan& plan, Workspace& ws) {
    if (!linearised_.at(plan, ws)) return false;
    weigh(ws);
    linearised_.backward(weights_.data(), multipliers_.data(), width_);
    return true;
}

Adjoint::Table Adjoint::by_columns(const Plan& plan, Workspace& ws) {
    touches_.at(plan, ws, linearised_, readings_);
    touches_.times(multipliers_.data(), weights_.data(), width_, table_.data());
    return {table_.data(), static_cast<Eigen::Index>(readings_.size()), static_cast<Eigen::Index>(touches_.columns()),
            Eigen::OuterStride<>(width_)};
}

}  // namespace swashwright::linkage
