#include "kinematics/studies/lengths/bounded_fit.h"

#include <Eigen/QR>
#include <cmath>
#include <vector>

namespace swashwright::studies {

namespace {

/// Unknowns that may move: those inside their bounds, or at one with the sum of squares falling inwards.
std::vector<Eigen::Index> movable(const BoundedFit& fit, const Eigen::VectorXd& least, const Eigen::VectorXd& most) {
    const Eigen::VectorXd gradient = fit.jacobian.transpose() * fit.residual;
    std::vector<Eigen::Index> out;
    for (Eigen::Index i = 0; i < fit.x.size(); ++i)
        if ((fit.x[i] > least[i] || gradient[i] < 0) && (fit.x[i] < most[i] || gradient[i] > 0)) out.push_back(i);
    return out;
}

/// The damped step of the movable unknowns, by QR of the Jacobian over the damping: the normal equations would lose
/// half the digits.
Eigen::VectorXd damped_step(const BoundedFit& fit, const std::vector<Eigen::Index>& free, double damping) {
    const auto rows = fit.residual.size(), count = static_cast<Eigen::Index>(free.size());
    Eigen::MatrixXd stacked = Eigen::MatrixXd::Zero(rows + count, count);
    for (Eigen::Index i = 0; i < count; ++i) {
        stacked.col(i).head(rows) = fit.jacobian.col(free[static_cast<std::size_t>(i)]);
        stacked(rows + i, i) = damping;
    }
    Eigen::VectorXd right = Eigen::VectorXd::Zero(rows + count);
    right.head(rows) = -fit.residual;
    return stacked.colPivHouseholderQr().solve(right);
}

}  // namespace

BoundedFit bounded_fit(const FitModel& model, const Eigen::VectorXd& start, const Eigen::VectorXd& least,
                       const Eigen::VectorXd& most, int max_steps) {
    constexpr double least_damping = 1e-7, most_damping = 1e6;
    BoundedFit fit;
    fit.x = start.cwiseMax(least).cwiseMin(most);
    fit.started = model(fit.x, fit.residual, fit.jacobian);
    if (!fit.started) return fit;
    BoundedFit trial = fit;
    for (double damping = 1e-2; fit.steps < max_steps && damping < most_damping; ++fit.steps) {
        const auto free = movable(fit, least, most);
        if (free.empty()) break;
        const Eigen::VectorXd step = damped_step(fit, free, damping);
        trial.x = fit.x;
        for (std::size_t i = 0; i < free.size(); ++i) trial.x[free[i]] += step[static_cast<Eigen::Index>(i)];
        trial.x = trial.x.cwiseMax(least).cwiseMin(most);
        const double moved = (trial.x - fit.x).norm();
        if (moved < 1e-13 * (1 + fit.x.norm())) break;
        if (model(trial.x, trial.residual, trial.jacobian) &&
            trial.residual.squaredNorm() < fit.residual.squaredNorm()) {
            fit.x = trial.x;
            fit.residual = trial.residual;
            fit.jacobian = trial.jacobian;
            damping = std::max(least_damping, damping / 4);
        } else {
            damping *= 3;
        }
    }
    return fit;
}

}  // namespace swashwright::studies
