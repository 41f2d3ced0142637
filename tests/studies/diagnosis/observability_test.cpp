#include "kinematics/studies/diagnosis/observability.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>

#include "kinematics/studies/diagnosis/fault_fit.h"
#include "kinematics/studies/diagnosis/next_reading.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

/// A parabola read at places x: rows (1, x, x^2).
Eigen::MatrixXd parabola(std::initializer_list<double> places) {
    Eigen::MatrixXd out(static_cast<Eigen::Index>(places.size()), 3);
    Eigen::Index row = 0;
    for (const double x : places) out.row(row++) << 1, x, x * x;
    return out;
}

Eigen::VectorXd at(double x) {
    return Eigen::Vector3d(1, x, x * x);
}

// The parabola's numbers follow by hand from its moment matrix [5 0 2.5; 0 2.5 0; 2.5 0 2.125], det 10.9375.
// Tolerances: half of the last digit written.
TEST(Observability, OfAParabolaAgreesWithTheHandCalculation) {
    const Observability o = observability(parabola({-1, -0.5, 0, 0.5, 1}));
    EXPECT_NEAR(o.product, 0.666297, 5e-7);
    EXPECT_NEAR(o.inverse_condition, 0.324472, 5e-7);
    EXPECT_NEAR(o.smallest, 0.823822, 5e-7);
    EXPECT_NEAR(o.noise_amplification, 0.267307, 5e-7);
    EXPECT_NEAR(o.harmonic, 0.446394, 5e-7);
}

TEST(Observability, IsNothingWhereAnUnknownCannotBeTold) {
    EXPECT_EQ(observability(parabola({0, 1})).smallest, 0);
    EXPECT_EQ(observability(parabola({1, 1, 1, 1})).smallest, 0);
}

TEST(Covariance, OfAParabolaAgreesWithTheInverseMomentMatrix) {
    const Eigen::MatrixXd c = covariance(parabola({-1, -0.5, 0, 0.5, 1}));
    ASSERT_EQ(c.rows(), 3);
    EXPECT_NEAR(c(0, 0), 17.0 / 35, 1e-12);
    EXPECT_NEAR(c(1, 1), 0.4, 1e-12);
    EXPECT_NEAR(c(2, 2), 8.0 / 7, 1e-12);
    EXPECT_NEAR(c(0, 2), -4.0 / 7, 1e-12);
    EXPECT_NEAR(c(0, 1), 0, 1e-12);
}

// Straight line: variance of the slope 1 / sum (x - mean)^2, of the height at x = 0 sum x^2 / (n sum (x - mean)^2); any
// textbook on regression, e.g. Draper and Smith, Applied Regression Analysis, chapter 1.
TEST(Covariance, OfAStraightLineAgreesWithTheTextbook) {
    const double places[] = {0.3, 1.1, 2.7, 4.0, 4.2, 9.0};
    Eigen::MatrixXd rows(6, 2);
    double sum = 0, squares = 0;
    for (int i = 0; i < 6; ++i) {
        rows.row(i) << 1, places[i];
        sum += places[i];
        squares += places[i] * places[i];
    }
    const double about_mean = squares - sum * sum / 6;
    const Eigen::MatrixXd c = covariance(rows);
    EXPECT_NEAR(c(1, 1), 1 / about_mean, 1e-14);
    EXPECT_NEAR(c(0, 0), squares / (6 * about_mean), 1e-14);
    EXPECT_NEAR(c(0, 1), -sum / 6 / about_mean, 1e-14);
}

TEST(NextReading, GainIsTheGrowthOfTheDeterminant) {
    // Read at -1, -0.5, 0 (determinant 1/16): one more at 1 makes it 6.875, the most of all; at 0.5 1.25; at -1 doubles
    // it.
    const Eigen::MatrixXd c = covariance(parabola({-1, -0.5, 0}));
    const std::pair<double, double> determinant[] = {{-1, 0.125},      {-0.5, 0.125}, {0, 0.125},
                                                     {0.25, 0.388672}, {0.5, 1.25},   {1, 6.875}};
    for (const auto& [x, grown] : determinant)
        EXPECT_NEAR(0.0625 * std::exp(2 * information_gain(at(x), c)), grown, 5e-7) << x;
}

TEST(NextReading, GainWithAPriorAgreesWithTheHandCalculation) {
    // Sizes known to 0.5, 0.3, 0.2 beforehand, a sensor of 0.1: half of ln(1 + (0.25 + 0.09 x^2 + 0.04 x^4) / 0.01).
    const Eigen::Vector3d usual(0.5, 0.3, 0.2);
    const Eigen::MatrixXd c = covariance(Eigen::MatrixXd::Zero(1, 3), usual);
    EXPECT_NEAR(information_gain(at(1) / 0.1, c), 1.831781, 5e-7);
    EXPECT_NEAR(information_gain(at(-1) / 0.1, c), 1.831781, 5e-7);
    EXPECT_NEAR(information_gain(at(0.5) / 0.1, c), 1.674952, 5e-7);
    EXPECT_NEAR(information_gain(at(0) / 0.1, c), 1.629048, 5e-7);
}

// Nobody can read a gauge at sticks that the transmitter cuts down.
TEST(NextReading, IsAdvisedOnlyAtSticksThatAreLetThrough) {
    head::Description d = testing::two_blades();
    const auto advised_at_both_full = [&] {
        std::size_t count = 0;
        for (const Advice& advice : next_readings(*head::Head::build(d), {}, faults(d), 1000)) {
            const head::Sticks& s = advice.where.sticks;
            count += s.collective != 0 && (s.aileron != 0 || s.elevator != 0);
        }
        return count;
    };
    EXPECT_GT(advised_at_both_full(), 0U);
    d.mixing.combined_limit = 1.4;
    EXPECT_EQ(advised_at_both_full(), 0U);
}

}  // namespace
}  // namespace swashwright::studies
