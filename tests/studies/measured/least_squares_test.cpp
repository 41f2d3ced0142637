#include "kinematics/studies/measured/least_squares.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

namespace swashwright::studies::measured {
namespace {

struct Row {
    double sd = 1;
    bool assumed = false, used = true;
};

struct Point {
    double y, x;
};

/// Standard deviation of what the rows leave, by as many as are free.
double left_over(const Fit& fit) {
    return fit.residual.norm() / std::sqrt(double(fit.residual.size() - fit.x.size()));
}

double certified_sd(const Fit& fit, int i) {
    return left_over(fit) * std::sqrt(fit.covariance(i, i));
}

// Norris: Statistical Reference Datasets of the National Institute of Standards and Technology (USA), linear
// regression; data and certified values from memory: a wrong digit in either would show.
const std::vector<Point> norris{
    {0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1},    {228.1, 226.5},
    {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
    {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
    {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
    {0.6, 0.3},     {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
    {10.2, 11.1},   {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}};

/// A straight line through `points`.
auto line(const std::vector<Point>& points) {
    return [&points](Fit& fit) {
        const auto n = static_cast<Eigen::Index>(points.size());
        fit.jacobian.resize(n, 2);
        fit.residual.resize(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            const Point& p = points[static_cast<std::size_t>(i)];
            fit.jacobian.row(i) << 1, p.x;
            fit.residual[i] = p.y - fit.x[0] - fit.x[1] * p.x;
        }
        return true;
    };
}

TEST(LeastSquares, AgreeWithACertifiedLine) {
    Fit fit;
    fit.x = Eigen::Vector2d(0, 0);
    ASSERT_TRUE(least_squares(std::vector<Row>(norris.size()), line(norris), fit));
    EXPECT_NEAR(fit.x[0], -0.262323073774029, 1e-11);
    EXPECT_NEAR(fit.x[1], 1.00211681802045, 1e-13);
    EXPECT_NEAR(certified_sd(fit, 0), 0.232818234301152, 1e-11);
    EXPECT_NEAR(certified_sd(fit, 1), 0.429796848199937e-3, 1e-14);
    EXPECT_NEAR(left_over(fit), 0.884796396144373, 1e-11);
}

// Misra1a, nonlinear regression of lower difficulty, of the same datasets; from memory too.
TEST(LeastSquares, AgreeWithACertifiedCurve) {
    const std::vector<Point> points{{10.07, 77.6},  {14.73, 114.9}, {17.94, 141.1}, {23.93, 190.8}, {29.61, 239.9},
                                    {35.18, 289.0}, {40.02, 332.8}, {44.82, 378.4}, {50.76, 434.8}, {55.05, 477.3},
                                    {61.01, 536.8}, {66.40, 593.1}, {75.47, 689.1}, {81.78, 760.0}};
    const auto curve = [&](Fit& fit) {
        const auto n = static_cast<Eigen::Index>(points.size());
        fit.jacobian.resize(n, 2);
        fit.residual.resize(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            const Point& p = points[static_cast<std::size_t>(i)];
            const double fall = std::exp(-fit.x[1] * p.x);
            fit.jacobian.row(i) << 1 - fall, fit.x[0] * p.x * fall;
            fit.residual[i] = p.y - fit.x[0] * (1 - fall);
        }
        return fit.residual.allFinite();
    };
    for (const auto& start : {Eigen::Vector2d(500, 0.0001), Eigen::Vector2d(250, 0.0005)}) {
        Fit fit;
        fit.x = start;
        ASSERT_TRUE(least_squares(std::vector<Row>(points.size()), curve, fit));
        EXPECT_NEAR(fit.x[0], 2.3894212918e2, 1e-7);
        EXPECT_NEAR(fit.x[1], 5.5015643181e-4, 1e-13);
        EXPECT_NEAR(certified_sd(fit, 0), 2.7070075241, 1e-7);
        EXPECT_NEAR(certified_sd(fit, 1), 7.2668688436e-6, 1e-13);
        EXPECT_NEAR(fit.residual.squaredNorm(), 1.2455138894e-1, 1e-10);
    }
}

TEST(LeastSquares, AConflictIsNamedAndLeftOut) {
    std::vector<Point> points = norris;
    std::vector<Row> rows(points.size());
    Fit right;
    right.x = Eigen::Vector2d(0, 0);
    rows[7].used = false;
    least_squares(rows, line(points), right);
    rows[7].used = true;
    points[7].y += 20;
    Fit fit;
    fit.x = Eigen::Vector2d(0, 0);
    least_squares(rows, line(points), fit);
    const auto found = find_conflicts(rows, fit, 5, [&](Fit& again) { least_squares(rows, line(points), again); });
    ASSERT_EQ(found.size(), 1U);
    ASSERT_EQ(found[0].rows, std::vector<std::size_t>{7});
    EXPECT_TRUE(found[0].left_out);
    EXPECT_NEAR(found[0].off[0], right.residual[7] + 20, 1e-9);  // against the line that the others make
    EXPECT_NEAR((fit.x - right.x).norm(), 0, 1e-10);
    EXPECT_FALSE(rows[7].used);
}

TEST(LeastSquares, AStepThatCannotBeTakenIsHalved) {
    // A root of tan, which the full step from 1.4 overshoots beyond where it may go.
    const auto tangent = [](Fit& fit) {
        if (std::abs(fit.x[0]) >= 1.5) return false;
        fit.jacobian = Eigen::MatrixXd::Constant(1, 1, 1 + std::pow(std::tan(fit.x[0]), 2));
        fit.residual = Eigen::VectorXd::Constant(1, -std::tan(fit.x[0]));
        return true;
    };
    Fit fit;
    fit.x = Eigen::VectorXd::Constant(1, 1.4);
    EXPECT_TRUE(least_squares(std::vector<Row>(1), tangent, fit));
    EXPECT_NEAR(fit.x[0], 0, 1e-9);
    fit.x[0] = 2;
    EXPECT_FALSE(least_squares(std::vector<Row>(1), tangent, fit));
}

}  // namespace
}  // namespace swashwright::studies::measured
