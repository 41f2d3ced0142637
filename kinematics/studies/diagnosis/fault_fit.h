// How large must a fault, or some together, be to explain the readings? Least squares on the real linkage.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <span>
#include <vector>

#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::studies {

/// The readings' side of a fit: everything is over the readings' uncertainties, so a residual of 1 is one standard
/// deviation.
struct FaultFit {
    std::vector<int> faults;     // indices into the list of suspects
    Eigen::VectorXd size;        // of each; 0 for one that has no size
    Eigen::MatrixXd covariance;  // of the sizes; zeros for one that has no size
    double chi_square = 0;       // what is left of the readings
    Eigen::VectorXd left;        // observed minus expected
    Eigen::MatrixXd slopes;      // of the expected readings by every suspect's size, at this fit

    double deviation(std::size_t i) const;  // one standard deviation of a size
};

/// Gauss-Newton with exact slopes; every step is tried on the real linkage and halved if it makes matters worse. With
/// `prior`, sizes are held towards 0 by their usual size (for faults that the readings hardly tell apart); without it
/// the sizes are those of plain least squares, covariance (J^T J)^-1.
/// None where the readings do not fix the sizes, or where the head with these faults cannot be posed.
std::optional<FaultFit> fit(const head::Description& base, const Readings& readings, std::span<const Fault> suspects,
                            const std::vector<int>& chosen, const Eigen::VectorXd& start, bool prior);

/// Covariance (J^T J)^-1 of plain least squares with unit noise; with `usual` above zero for each size,
/// (J^T J + diag(1/usual^2))^-1. Empty if that is singular.
Eigen::MatrixXd covariance(const Eigen::MatrixXd& slopes, const Eigen::VectorXd& usual = {});

/// Logarithm of the probability of what was read, sizes averaged over their prior (normal about 0, one standard
/// deviation the usual size), from residuals and slopes at sizes near the best. Linear in the sizes; leaves out the
/// constant that all hypotheses share.
double log_evidence(const Eigen::VectorXd& left, const Eigen::MatrixXd& slopes, const Eigen::VectorXd& size,
                    const Eigen::VectorXd& usual);

/// The same at the sizes that are best by the slopes, and those sizes, for a first look that poses nothing.
struct LinearFit {
    Eigen::VectorXd size;
    double log_evidence = 0;
};
LinearFit linear_fit(const Eigen::VectorXd& left, const Eigen::MatrixXd& slopes, const Eigen::VectorXd& size,
                     const Eigen::VectorXd& usual);

}  // namespace swashwright::studies
