// Least squares within bounds: Levenberg-Marquardt (Marquardt, J. SIAM 11, 1963) with an active set.
#pragma once

#include <Eigen/Core>
#include <functional>

namespace swashwright::studies {

/// Fills residuals and Jacobian (rows: residuals, columns: unknowns) at x; false where they do not exist.
using FitModel = std::function<bool(const Eigen::VectorXd& x, Eigen::VectorXd& residual, Eigen::MatrixXd& jacobian)>;

struct BoundedFit {
    Eigen::VectorXd x;         // within the bounds
    Eigen::VectorXd residual;  // there
    Eigen::MatrixXd jacobian;
    bool started = false;  // the model exists at the start; otherwise x is the start and the rest is empty
    int steps = 0;
};

/// From `start` (moved into the bounds first) to a local minimum of the sum of squares. A trial at which the model
/// does not exist counts as no better. Where unknowns outnumber what the residuals fix, the nearest way there is taken.
BoundedFit bounded_fit(const FitModel& model, const Eigen::VectorXd& start, const Eigen::VectorXd& least,
                       const Eigen::VectorXd& most, int max_steps = 60);

}  // namespace swashwright::studies
