#include "kinematics/studies/friction.h"

#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/head/solver.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

// Against a fine scan of all rolls: parabola-like near its least, so a step of 1e-3 leaves under 1e-6.
TEST(LeastTurning, IsTheLeastOfAllRolls) {
    std::mt19937_64 bits(1);
    testing::Draw draw(bits);
    for (int i = 0; i < 200; ++i) {
        const Vec3 a(draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1));
        const Vec3 b(draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1));
        const Vec3 u = Vec3(draw.between(-1, 1), draw.between(-1, 1), draw.between(0.1, 1)).normalized();
        double least = 1e9;
        for (double s = -3; s <= 3; s += 1e-3) least = std::min(least, (a - s * u).norm() + (b - s * u).norm());
        EXPECT_NEAR(least_turning(a, b, u), least, 1e-5);
        EXPECT_LE(least_turning(a, b, u), least + 1e-12);
    }
}

/// Two blades with everything square: horns and pitch arms level, links upright, both in planes of their own.
head::Description square_head() {
    head::Description d;
    d.name = "square";
    d.rotor = {.blades = 2, .hub_height_mm = 100};
    for (const double azimuth : {60.0, -60.0, 180.0}) {
        const double a = azimuth * degree;
        const Vec3 out(std::cos(a), std::sin(a), 0), aside(-std::sin(a), std::cos(a), 0);
        head::Servo servo;
        servo.pivot_mm = Vec3(25 * out - 15 * aside + Vec3(0, 0, 10));
        servo.axis = -out;  // a growing angle raises the ball
        servo.horn_zero = aside;
        servo.horn_mm = 15;
        servo.raise = 1;
        d.servos.push_back(servo);
        d.swashplate.inner_balls.push_back({25, azimuth, 0});
        d.lower_links.push_back({.length_mm = 30});
    }
    d.swashplate.neutral_height_mm = 40;
    d.swashplate.guide_pin = {35, 180, 0};
    d.swashplate.driver_pins = {{20, 0, 0}};
    for (const double ahead : {90.0, 270.0}) {
        d.swashplate.outer_balls.push_back({25, ahead, 0});
        d.upper_links.push_back({.length_mm = 60});
        d.grips.push_back({.pitch_arm = {0, 25, 0}});
    }
    d.mixing = {12, 8, 0};
    return d;
}

// Virtual work by hand. With all three horns moving together by da the ring rises by r da (r = 15 mm, horns level), and
// every upper link turns its grip by r / 25 da. Links stay upright to first order, so each lower link's ball turns by
// da against the horn and not at all against the ring, each upper link's by r / 25 da against the grip; the grips'
// bearings by the same. One horn's share: its own ball link in full; by symmetry the three horns together bear the
// rest. Work of collective = sum over joints; the horns' single moments are found from motions of one horn each, whose
// rates add up (linear), so their sum bounds it from above: friction takes sizes.
TEST(Friction, OfASquareHeadIsTheVirtualWorkDoneByHand) {
    const auto head = head::Head::build(square_head());
    ASSERT_TRUE(head) << head.error().message;
    ASSERT_EQ(head->neutral_failure(), nullptr);
    FrictionOptions only_horn_balls;
    only_horn_balls.ball_nmm = 0;
    only_horn_balls.bearing_nmm = 0;
    only_horn_balls.odd = {{false, 2, 1.0}};  // lower link 3 alone
    const auto found = friction(*head, only_horn_balls);
    ASSERT_TRUE(found) << found.error().message;
    // Horn 3 moves alone by da: its ball rises by 15 da while balls 1 and 2 stay, so the ring tips about their line,
    // which is 25 + 12.5 = 37.5 mm from ball 3: by 15 / 37.5 = 0.4 da. The axes of horn 3 (along its radius) and of the
    // tip (across it) are square to one another, and the link stays upright but for the ball's swing inwards, which is
    // of second order at a level ring. So its ball link turns by 1 at the horn and 0.4 at the ring; the rod's roll is
    // about the upright and takes part in neither.
    EXPECT_NEAR(found->horns[2].nmm, 1.0 + 0.4, 1e-9);
    // Horn 1 alone: the ring tips about the line of balls 2 and 3; ball 3 neither rises nor swings; its link's ball
    // turns with the ring only, by the same 0.4.
    EXPECT_NEAR(found->horns[0].nmm, 0.4, 1e-9);
}

TEST(Friction, GrowsInProportionAndNamesItsShares) {
    std::mt19937_64 bits(5);
    int seen = 0;
    for (int i = 0; i < 60; ++i) {
        const auto head = head::Head::build(testing::random_head(bits));
        if (!head || head->neutral_failure()) continue;
        FrictionOptions once, twice;
        twice.ball_nmm = 2 * once.ball_nmm;
        twice.bearing_nmm = 2 * once.bearing_nmm;
        const auto a = friction(*head, once), b = friction(*head, twice);
        if (!a || !b) continue;
        for (std::size_t j = 0; j < a->horns.size(); ++j) {
            EXPECT_NEAR(b->horns[j].nmm, 2 * a->horns[j].nmm, 1e-9 * a->horns[j].nmm);
            double sum = 0;
            for (const FrictionShare& share : a->horns[j].shares) sum += share.nmm;
            EXPECT_NEAR(sum, a->horns[j].nmm, 1e-9 * sum);
            EXPECT_GE(a->horns[j].nmm, once.ball_nmm * 0.9);  // its own ball at least turns with the horn
        }
        ++seen;
    }
    EXPECT_GT(seen, 30);
}

}  // namespace
}  // namespace swashwright::studies
