// The least-squares fit behind measured_head: readings and assumptions as equations, solved with exact derivatives, and
// what its residuals tell. Internal to measured_head.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <unsupported/Eigen/AutoDiff>
#include <vector>

#include "kinematics/studies/measured/measured.h"
#include "kinematics/studies/measured/measured_rows.h"

namespace swashwright::studies::measured {

constexpr int most_unknowns = 64;  // 22 single ones, 15 of the servos, and a link for each of 2 to 6 blades
using Gradient = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most_unknowns, 1>;
using Scalar = Eigen::AutoDiffScalar<Gradient>;
using ExactRows = Rows<Scalar>;

/// An equation: `of` the unknowns should be `mm`.
struct Row {
    std::function<Scalar(const ExactRows&)> of;
    double mm = 0, sd = 1;
    ReadingPlace place;
    bool assumed = false;  // stands in for readings that were not taken
    bool used = true;
};

struct Fit {
    Eigen::VectorXd x;
    Eigen::MatrixXd jacobian;    // of all rows, used or not, at x
    Eigen::VectorXd residual;    // reading less what the numbers give
    Eigen::MatrixXd covariance;  // of x
};

std::vector<Scalar> with_gradients(const Eigen::VectorXd& x);
/// One for each reading that was taken.
std::vector<Row> rows_of(const MeasuredHead& measured);
/// A place to start from: near any head of the usual kind. The order is that of the unknowns.
Eigen::VectorXd start(const MeasuredLayout& layout);
/// Adds an assumption for each unknown that the readings leave free, and tells it.
void assume(const MeasuredLayout& layout, std::vector<Row>& rows, const Eigen::VectorXd& at, Measured& out);
/// Least squares by Gauss's method; readings are nearly linear in the numbers, so it converges in a few steps.
void solve(const MeasuredLayout& layout, const std::vector<Row>& rows, Fit& fit);
/// Standard deviation of a reading's residual; 0 if nothing else tells what the reading tells.
double residual_sd(const Fit& fit, const std::vector<Row>& rows, std::size_t i);
/// Share of a number's variance that comes from what was assumed.
double assumed_share(const Fit& fit, const std::vector<Row>& rows, int unknown);
/// One contradiction after another, the largest first. A reading that alone explains one is not used any more; where
/// several explain it equally well all stay in use.
void find_contradictions(const MeasuredLayout& layout, std::vector<Row>& rows, Fit& fit, Measured& out);

}  // namespace swashwright::studies::measured
