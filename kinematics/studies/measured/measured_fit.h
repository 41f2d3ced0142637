// The least-squares fit behind measured_head: readings and assumptions as equations, solved with exact derivatives, and
// what its residuals tell. Internal to measured_head.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <unsupported/Eigen/AutoDiff>
#include <vector>

#include "kinematics/studies/measured/least_squares.h"
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

std::vector<Scalar> with_gradients(const Eigen::VectorXd& x);
/// One for each reading that was taken.
std::vector<Row> rows_of(const MeasuredHead& measured);
/// A place to start from: near any head of the usual kind. The order is that of the unknowns.
Eigen::VectorXd start(const MeasuredLayout& layout);
/// Adds an assumption for each unknown that the readings leave free, and tells it.
void assume(const MeasuredLayout& layout, std::vector<Row>& rows, const Eigen::VectorXd& at, Measured& out);
void solve(const MeasuredLayout& layout, const std::vector<Row>& rows, Fit& fit);
/// As `find_conflicts`, told in `out`.
void find_contradictions(const MeasuredLayout& layout, std::vector<Row>& rows, Fit& fit, Measured& out);

}  // namespace swashwright::studies::measured
