#include "kinematics/studies/pitch/highest.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

// Sums of three harmonics against a grid of 36,000 places: half a step of it, 0.005 deg, misses at most 1/2 (0.005 deg
// x order)^2 of each amplitude, under 1e-7 in all.
TEST(Highest, OfAPeriodicSumIsThatOfAFineGrid) {
    std::mt19937_64 bits(1);
    testing::Draw draw(bits);
    for (int i = 0; i < 200; ++i) {
        double amplitude[3], phase[3];
        for (int n = 0; n < 3; ++n) amplitude[n] = draw.between(0, 1), phase[n] = draw.between(0, 2 * pi);
        const auto of = [&](double deg) {
            double sum = 0;
            for (int n = 0; n < 3; ++n) sum += amplitude[n] * std::cos((n + 1) * deg * degree + phase[n]);
            return std::abs(sum);
        };
        double brute = 0;
        for (int k = 0; k < 36'000; ++k) brute = std::max(brute, of(0.01 * k));
        const auto found = highest(of, 0, 360, 24);
        ASSERT_TRUE(found);
        EXPECT_GE(found->value, brute - 1e-9);
        EXPECT_LE(found->value, brute + 1e-7);
        EXPECT_DOUBLE_EQ(found->value, of(found->at));
    }
}

TEST(Highest, StandsAtAnEndWhereThatIsHighest) {
    const auto found = highest([](double x) { return x; }, -1, 2, 4);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->at, 2);
    EXPECT_EQ(found->value, 2);
}

TEST(Highest, IsNoneWhereThereIsNoValue) {
    const auto of = [](double x) { return x < 0.7 ? std::optional(x) : std::nullopt; };
    EXPECT_FALSE(highest(of, 0, 1, 10));
}

}  // namespace
}  // namespace swashwright::studies
