#include "kinematics/head/stick_envelope.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/random_head.h"

namespace swashwright::head {
namespace {

/// Both shapes under several limits.
std::vector<Mixing> mixings() {
    std::vector<Mixing> out;
    for (const CyclicStick shape : {CyclicStick::circle, CyclicStick::square})
        for (const double limit : {2.0, 1.4, 1.0, 0.6}) out.push_back({.cyclic_stick = shape, .combined_limit = limit});
    return out;
}

/// The envelope in its plain words: |collective| + how far out, by the larger axis or by both.
double sum(const Mixing& mixing, const Sticks& s) {
    const double a = std::abs(s.aileron), e = std::abs(s.elevator);
    return std::abs(s.collective) +
           (mixing.cyclic_stick == CyclicStick::circle ? std::sqrt(a * a + e * e) : std::max(a, e));
}

TEST(StickEnvelope, IsACircleOrASquare) {
    const Mixing circle, square{.cyclic_stick = CyclicStick::square};
    EXPECT_TRUE(lets_through(circle, {1, 0.6, 0.8}));
    EXPECT_TRUE(lets_through(circle, {-1, 0.71, 0.71}));  // 0.707 to two decimals
    EXPECT_FALSE(lets_through(circle, {0, 0.8, 0.8}));
    EXPECT_FALSE(lets_through(circle, {0, -1, 1}));
    EXPECT_TRUE(lets_through(square, {-1, -1, 1}));
    EXPECT_FALSE(lets_through({.cyclic_stick = CyclicStick::square, .combined_limit = 1.5}, {-1, -1, 1}));
    EXPECT_TRUE(lets_through({.cyclic_stick = CyclicStick::square, .combined_limit = 1.5}, {-1, -0.5, 0.5}));
    EXPECT_FALSE(lets_through({.combined_limit = 0.5}, {-1, 0, 0}));
}

TEST(StickEnvelope, HoldsBackWhatIsBeyondAndNothingElse) {
    std::mt19937_64 bits(1);
    testing::Draw draw(bits);
    for (const Mixing& mixing : mixings())
        for (int i = 0; i < 1000; ++i) {
            const Sticks asked{draw.between(-1.5, 1.5), draw.between(-1.5, 1.5), draw.between(-1.5, 1.5)};
            const Sticks held = held_back(mixing, asked);
            EXPECT_TRUE(lets_through(mixing, held));
            EXPECT_LE(sum(mixing, held), mixing.combined_limit + 1e-12);
            EXPECT_LE(sum(mixing, {0, held.aileron, held.elevator}), 1 + 1e-12);
            const bool within = std::abs(asked.collective) <= 1 &&
                                sum(mixing, {0, asked.aileron, asked.elevator}) <= 1 &&
                                sum(mixing, asked) <= mixing.combined_limit;
            EXPECT_EQ(held == asked, within);
            EXPECT_GE(held.aileron * asked.aileron, 0);  // never to the other side
            EXPECT_GE(held.elevator * asked.elevator, 0);
        }
}

TEST(StickEnvelope, GoesOutToItsEdgeEveryWay) {
    for (const CyclicStick shape : {CyclicStick::circle, CyclicStick::square})
        for (int direction = 0; direction < 360; direction += 5) {
            const Sticks at = sticks_at(shape, 0.3, 0.8, direction);
            EXPECT_EQ(at.collective, 0.3);
            EXPECT_NEAR(cyclic_out(shape, at.aileron, at.elevator), 0.8, 1e-12);
            EXPECT_NEAR(std::remainder(std::atan2(at.aileron, at.elevator) / degree - direction, 360), 0, 1e-9);
        }
    const Sticks corner = sticks_at(CyclicStick::square, 0, 1, 135);
    EXPECT_NEAR(corner.aileron, 1, 1e-12);
    EXPECT_NEAR(corner.elevator, -1, 1e-12);
}

TEST(StickEnvelope, IsTheSameWhereTheSameSticksComeThrough) {
    const Mixing plain, square{.cyclic_stick = CyclicStick::square}, limited{.combined_limit = 1.7};
    EXPECT_TRUE(same_envelope(plain, plain));
    EXPECT_TRUE(same_envelope(plain, {.phase_deg = 5, .combined_limit = 3}));  // both sticks full come to 2
    EXPECT_FALSE(same_envelope(plain, square));
    EXPECT_FALSE(same_envelope(plain, limited));
    EXPECT_FALSE(same_envelope(limited, {.combined_limit = 1.6}));
}

// Every stick position of a fine grid within the envelope: none commands more, one nearly as much. Grid steps of 0.02
// and 0.5 deg leave less than a fiftieth of the sum of the gains.
TEST(StickEnvelope, MostCommandIsThatOfAGrid) {
    std::mt19937_64 bits(2);
    testing::Draw draw(bits);
    for (const Mixing& mixing : mixings())
        for (int i = 0; i < 5; ++i) {
            const StickGains gains{draw.between(-20, 20), draw.between(-15, 15), draw.between(-15, 15)};
            double most = 0;
            for (int c = -50; c <= 50; ++c)
                for (int r = 0; r <= 50; ++r)
                    for (int d = 0; d < 720; ++d) {
                        const Sticks s = sticks_at(mixing.cyclic_stick, c / 50.0, r / 50.0, d / 2.0);
                        if (sum(mixing, s) > mixing.combined_limit + 1e-12) continue;
                        most = std::max(most, gains[0] * s.collective + gains[1] * s.aileron + gains[2] * s.elevator);
                    }
            const double told = most_command_deg(mixing, gains);
            EXPECT_LE(most, told + 1e-9);
            EXPECT_GE(most, told - 0.02 * (std::abs(gains[0]) + std::abs(gains[1]) + std::abs(gains[2])));
        }
}

TEST(StickEnvelope, IsToldInWords) {
    EXPECT_EQ(envelope_words({}), "the cyclic stick in a circle");
    EXPECT_EQ(envelope_words({.cyclic_stick = CyclicStick::square, .combined_limit = 1.7}),
              "the cyclic stick in a square (with collective at most 1.7)");
}

}  // namespace
}  // namespace swashwright::head
