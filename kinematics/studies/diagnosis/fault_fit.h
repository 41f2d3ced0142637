// How large must a fault, or some together, be to explain the readings? Least squares on the real linkage.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <span>
#include <vector>

#include "kinematics/studies/diagnosis/account.h"

namespace swashwright::studies {

/// The readings' side of a fit. Residuals and slopes are whitened: over the readings' uncertainties and what they share
/// (the gauge's zero, the shaft's lean), so that a residual of 1 is one standard deviation.
struct FaultFit {
    std::vector<int> faults;     // indices into the list of suspects
    Eigen::VectorXd size;        // of each; 0 for one that has no size
    Eigen::MatrixXd covariance;  // of the sizes; zeros for one that has no size
    double chi_square = 0;       // what is left of the readings

    double deviation(std::size_t i) const;  // one standard deviation of a size
};

/// What fits have in common.
struct FitTo {
    const head::Description& base;
    std::span<const Fault> suspects;
    const std::vector<head::Number>& numbers;  // of the base
};

/// A fit with what the head then shows at every blade's rows, and how that moves with the chosen sizes.
struct Fitted {
    FaultFit fit;
    Expected rows;
};

/// Gauss-Newton with exact slopes; every step is tried on the real linkage and halved if it makes matters worse. With
/// `prior`, sizes are held towards 0 by their usual size (for faults that the readings hardly tell apart); without it
/// the sizes are those of plain least squares, covariance (J^T J)^-1.
/// None where the readings do not fix the sizes, or where the head with these faults cannot be posed.
std::optional<Fitted> fit(const FitTo& to, const Account& account, const Whitened& whitened,
                          const std::vector<int>& chosen, const Eigen::VectorXd& start, bool prior);

/// Covariance (J^T J)^-1 of plain least squares with unit noise; with `usual` above zero for each size,
/// (J^T J + diag(1/usual^2))^-1. Empty if that is singular.
Eigen::MatrixXd covariance(const Eigen::MatrixXd& slopes, const Eigen::VectorXd& usual = {});

}  // namespace swashwright::studies
