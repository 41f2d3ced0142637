#include "kinematics/studies/lengths/bounded_fit.h"

#include <gtest/gtest.h>

#include <limits>

namespace swashwright::studies {
namespace {

// The valley of Rosenbrock (Computer Journal 3, 1960) as a sum of squares: 10 (y - x^2) and 1 - x, least at (1, 1).
bool valley(const Eigen::VectorXd& x, Eigen::VectorXd& residual, Eigen::MatrixXd& jacobian) {
    residual = Eigen::Vector2d(10 * (x[1] - x[0] * x[0]), 1 - x[0]);
    jacobian = Eigen::Matrix2d{{-20 * x[0], 10}, {-1, 0}};
    return true;
}

TEST(BoundedFit, WalksRosenbrocksValley) {
    constexpr double endless = std::numeric_limits<double>::infinity();
    const auto fit = bounded_fit(valley, Eigen::Vector2d(-1.2, 1), Eigen::Vector2d::Constant(-endless),
                                 Eigen::Vector2d::Constant(endless), 200);
    EXPECT_NEAR(fit.x[0], 1, 1e-9);
    EXPECT_NEAR(fit.x[1], 1, 1e-9);
}

// With x held at most 0.5 the best is on that bound: y = x^2 leaves only (1 - x)^2 = 0.25.
TEST(BoundedFit, StopsAtABoundAndMovesAlongIt) {
    const auto fit =
        bounded_fit(valley, Eigen::Vector2d(-1.2, 1), Eigen::Vector2d(-2, -2), Eigen::Vector2d(0.5, 2), 200);
    EXPECT_DOUBLE_EQ(fit.x[0], 0.5);
    EXPECT_NEAR(fit.x[1], 0.25, 1e-9);
    EXPECT_NEAR(fit.residual.squaredNorm(), 0.25, 1e-9);
}

TEST(BoundedFit, LeavesABoundThatItNeedNotKeep) {
    const auto fit =
        bounded_fit(valley, Eigen::Vector2d(0.5, -2), Eigen::Vector2d(0.5, -2), Eigen::Vector2d(3, 3), 200);
    EXPECT_NEAR(fit.x[0], 1, 1e-8);
}

TEST(BoundedFit, TakesTheNearestOfManyAnswers) {  // x + y = 2: the nearest to the origin is (1, 1)
    const auto plane = [](const Eigen::VectorXd& x, Eigen::VectorXd& residual, Eigen::MatrixXd& jacobian) {
        residual = Eigen::VectorXd::Constant(1, x.sum() - 2);
        jacobian = Eigen::MatrixXd::Ones(1, 2);
        return true;
    };
    const auto fit =
        bounded_fit(plane, Eigen::Vector2d::Zero(), Eigen::Vector2d::Constant(-9), Eigen::Vector2d::Constant(9));
    EXPECT_NEAR(fit.x[0], 1, 1e-9);
    EXPECT_NEAR(fit.x[1], 1, 1e-9);
}

TEST(BoundedFit, SaysWhereTheModelDoesNotExist) {
    const auto nowhere = [](const Eigen::VectorXd&, Eigen::VectorXd&, Eigen::MatrixXd&) { return false; };
    EXPECT_FALSE(
        bounded_fit(nowhere, Eigen::Vector2d::Zero(), Eigen::Vector2d::Constant(-1), Eigen::Vector2d::Constant(1))
            .started);
}

}  // namespace
}  // namespace swashwright::studies
