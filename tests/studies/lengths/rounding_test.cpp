#include "kinematics/studies/lengths/rounding.h"

#include <gtest/gtest.h>

#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using testing::Draw;

double cost(const Eigen::VectorXd& x, const Eigen::VectorXd& r, const Eigen::MatrixXd& j, const Eigen::VectorXd& at) {
    return (r + j * (at - x)).squaredNorm();
}

struct Case {
    Eigen::VectorXd x, residual;
    Eigen::MatrixXd jacobian;
    std::vector<Grid> grids;
};

/// Four unknowns, seven values each, badly conditioned: rounding one by one then goes wrong.
Case drawn(Draw& draw, bool smooth_last) {
    Case c{Eigen::VectorXd(4), Eigen::VectorXd(6), Eigen::MatrixXd(6, 4), {}};
    for (double& v : c.x) v = draw.between(-0.5, 0.5);
    for (double& v : c.residual) v = draw.between(-0.1, 0.1);
    for (Eigen::Index i = 0; i < 4; ++i)
        for (Eigen::Index r = 0; r < 6; ++r) c.jacobian(r, i) = draw.between(-1, 1) + 2;
    c.grids.assign(4, {-3, -2, -1, 0, 1, 2, 3});
    if (smooth_last) c.grids[3].clear();
    return c;
}

/// One of n's digits to base 7, the lowest at place 0, from -3 to 3.
double digit(int n, int place) {
    for (; place > 0; --place) n /= 7;
    return n % 7 - 3;
}

TEST(Rounding, FindsWhatTryingEverythingFinds) {
    std::mt19937_64 bits(5);
    Draw draw(bits);
    int better = 0;
    for (int i = 0; i < 200; ++i) {
        const Case c = drawn(draw, false);
        double least = 1e300;
        for (int n = 0; n < 7 * 7 * 7 * 7; ++n) {
            const Eigen::Vector4d at(digit(n, 0), digit(n, 1), digit(n, 2), digit(n, 3));
            least = std::min(least, cost(c.x, c.residual, c.jacobian, at));
        }
        const auto found = round_together(c.x, c.residual, c.jacobian, c.grids, 3);
        ASSERT_EQ(found.size(), 3U);
        // The pull towards x that breaks ties adds up to 1e-8 for each squared unit.
        EXPECT_NEAR(cost(c.x, c.residual, c.jacobian, found[0]), least, 1e-6);
        EXPECT_LE(cost(c.x, c.residual, c.jacobian, found[0]), cost(c.x, c.residual, c.jacobian, found[1]) + 1e-6);
        better += cost(c.x, c.residual, c.jacobian, round_each(c.x, c.grids)) > 2 * least;
    }
    EXPECT_GT(better, 100);  // one by one is more than twice as bad in most
}

TEST(Rounding, LetsASmoothUnknownFollow) {
    std::mt19937_64 bits(6);
    Draw draw(bits);
    for (int i = 0; i < 100; ++i) {
        const Case c = drawn(draw, true);
        double least = 1e300;
        for (int n = 0; n < 7 * 7 * 7; ++n) {
            Eigen::Vector4d at(digit(n, 0), digit(n, 1), digit(n, 2), c.x[3]);
            const Eigen::VectorXd left = c.residual + c.jacobian * (at - c.x), last = c.jacobian.col(3);
            at[3] -= left.dot(last) / last.squaredNorm();  // normal equation of one unknown
            least = std::min(least, cost(c.x, c.residual, c.jacobian, at));
        }
        const auto found = round_together(c.x, c.residual, c.jacobian, c.grids, 1);
        EXPECT_NEAR(cost(c.x, c.residual, c.jacobian, found.at(0)), least, 1e-6);
    }
}

TEST(Rounding, SparingFindsTheCheapestOfThoseThatComeNear) {
    std::mt19937_64 bits(7);
    Draw draw(bits);
    int cheaper = 0;
    for (int i = 0; i < 100; ++i) {
        const Case c = drawn(draw, false);
        Prices prices;
        for (const Grid& grid : c.grids) {
            prices.emplace_back();
            for (const double v : grid) prices.back().push_back(v == 0 ? 0 : 1 + std::abs(v) / 100);
        }
        const auto price = [](const Eigen::VectorXd& at) {
            double out = 0;
            for (const double v : at) out += v == 0 ? 0 : 1 + std::abs(v) / 100;
            return out;
        };
        constexpr double slack = 0.3, rounding = 1e-6;
        double least = 1e300, cheapest = 1e300;
        const auto each = [&](auto&& what) {
            for (int n = 0; n < 7 * 7 * 7 * 7; ++n)
                what(Eigen::Vector4d(digit(n, 0), digit(n, 1), digit(n, 2), digit(n, 3)));
        };
        const auto left = [&](const Eigen::VectorXd& at) { return std::sqrt(cost(c.x, c.residual, c.jacobian, at)); };
        each([&](const Eigen::Vector4d& at) { least = std::min(least, left(at)); });
        each([&](const Eigen::Vector4d& at) {
            if (left(at) <= least + slack - rounding) cheapest = std::min(cheapest, price(at));
        });
        const auto found = round_sparingly(c.x, c.residual, c.jacobian, c.grids, prices, slack, 3);
        ASSERT_FALSE(found.empty());
        EXPECT_LE(price(found[0]), cheapest + 1e-12);
        EXPECT_LE(left(found[0]), least + slack + rounding);
        cheaper += price(found[0]) < price(round_together(c.x, c.residual, c.jacobian, c.grids, 1)[0]);
    }
    EXPECT_GT(cheaper, 20);
}

TEST(Rounding, EachByItselfTakesTheNearestValue) {
    const Eigen::VectorXd out = round_each(Eigen::Vector3d(0.3, 0.8, 0.123), {{0, 1}, {0, 1}, {}});
    EXPECT_EQ(out, Eigen::Vector3d(0, 1, 0.123));
}

}  // namespace
}  // namespace swashwright::studies
