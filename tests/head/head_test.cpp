// A head that can be worked out by hand, and what is said of heads that cannot be.

#include "kinematics/head/head.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "kinematics/head/solver.h"

namespace swashwright::head {
namespace {

using ::testing::HasSubstr;

/// Level, square and symmetrical: three vertical lower links of 30 mm from 16 mm horns that lie level, two vertical
/// upper links of 60 mm to pitch arms that lead by 25 mm. Invented.
Description square_head() {
    Description d;
    d.name = "square head";
    d.rotor = {.blades = 2,
               .direction = Direction::anticlockwise,
               .hub_height_mm = 106,
               .precone_deg = 0,
               .blade_tip_mm = 600,
               .head_speed_rpm = 2000};
    for (const double azimuth : {60.0, 180.0, -60.0}) {
        const Polar ball{25, azimuth, 0};
        const Vec3 out(std::cos(azimuth * degree), std::sin(azimuth * degree), 0);
        Servo servo;
        servo.name = std::to_string(static_cast<int>(azimuth));
        servo.pivot_mm = Vec3(25 * out - 16 * Vec3::UnitZ().cross(out) + Vec3(0, 0, 10));
        servo.horn_zero = Vec3::UnitZ().cross(out);
        servo.axis = out;  // out x (z x out) = z: a positive angle raises the ball
        servo.horn_mm = 16;
        d.servos.push_back(servo);
        d.swashplate.inner_balls.push_back(ball);
        d.lower_links.push_back({30, 0});
    }
    d.swashplate.neutral_height_mm = 40;
    d.swashplate.guide_pin = {34, 180, 0};
    d.swashplate.outer_balls = {{25, 90, 6}, {25, 270, 6}};
    d.swashplate.driver_pins = {{20, 0, 0}, {20, 180, 0}};
    d.upper_links = {{60, 0}, {60, 0}};
    d.grips = {{{0, 25, 0}, 0}, {{0, 25, 0}, 0}};
    d.mixing = {20, 10, 0};
    return d;
}

Head built(const Description& description) {
    const auto head = Head::build(description);
    EXPECT_TRUE(head.has_value()) << (head ? "" : head.error().message);
    return *head;
}

TEST(SquareHead, IsLevelWithZeroPitchAtMidStick) {
    const auto pose = built(square_head()).pose(Sticks{}, 77);
    ASSERT_TRUE(pose.has_value());
    EXPECT_NEAR(pose->height_mm, 40, 1e-10);
    EXPECT_NEAR(pose->tilt_deg, 0, 1e-10);
    EXPECT_EQ(pose->lowest_azimuth_deg, 0);
    EXPECT_NEAR(pose->pitch_deg[0], 0, 1e-9);
    EXPECT_NEAR(pose->pitch_deg[1], 0, 1e-9);
}

TEST(SquareHead, CollectiveRisesAsTwoRightTrianglesSay) {
    const auto pose = built(square_head()).pose(Sticks{.collective = 1}, 0);
    ASSERT_TRUE(pose.has_value());
    // The horn ball moves in by 16 (1 - cos 20) and up by 16 sin 20; the 30 mm rod leans by the first.
    const double in = 16 * (1 - std::cos(20 * degree)), up = 16 * std::sin(20 * degree);
    const double height = 10 + up + std::sqrt(30.0 * 30 - in * in);
    EXPECT_NEAR(pose->height_mm, height, 1e-9);
    // The upper link of 60 mm from (0, 25, height + 6) to (0, 25 cos t, 106 + 25 sin t): a four-bar solved by trial
    // here.
    const double rise = height - 40;
    double t = 0;
    for (int i = 0; i < 60; ++i)
        t = std::asin((rise - 60 + std::sqrt(3600 - std::pow(25 * (1 - std::cos(t)), 2))) / 25);
    EXPECT_NEAR(pose->pitch_deg[0], t / degree, 1e-9);
    EXPECT_NEAR(pose->pitch_deg[1], t / degree, 1e-9);
}

TEST(SquareHead, ForwardStickLowersTheNoseAndRightStickTheRightSide) {
    const Head head = built(square_head());
    const auto forward = head.pose(Sticks{.elevator = 1}, 0), right = head.pose(Sticks{.aileron = 1}, 0);
    ASSERT_TRUE(forward && right);
    EXPECT_GT(forward->tilt_forward_deg, 3);
    // All horns point the same way round, so the head has no mirror plane: a trace of the other tilt remains.
    EXPECT_NEAR(forward->tilt_right_deg, 0, 1e-2);
    EXPECT_NEAR(forward->lowest_azimuth_deg, 0, 0.1);
    EXPECT_GT(right->tilt_right_deg, 3);
    EXPECT_NEAR(right->lowest_azimuth_deg, -90, 1.0);
}

TEST(SquareHead, ALongUpperLinkRaisesItsOwnBladeOnly) {
    Description d = square_head();
    d.upper_links[1].error_mm = 0.3;
    const auto pose = built(d).pose(Sticks{}, 0);
    ASSERT_TRUE(pose.has_value());
    EXPECT_NEAR(pose->pitch_deg[0], 0, 1e-9);
    EXPECT_NEAR(pose->pitch_deg[1], std::asin(0.3 / 25) / degree, 1e-3);  // to second order
}

TEST(SquareHead, SlippedDriverCollarTurnsTheOuterRingAndPitchFollowsTheTilt) {
    Description d = square_head();
    d.swashplate.driver_turn_deg = 5;
    const auto pose = built(d).pose(Sticks{}, 0);
    ASSERT_TRUE(pose.has_value());
    const Vec3 x = pose->skeleton.outer_ring.turn.col(0);
    EXPECT_NEAR(std::atan2(-x.y(), -x.x()) / degree, 5, 1e-9) << "in the direction of rotation";
}

TEST(SquareHead, SaysWhichLinkIsShortAndByHowMuch) {
    Description d = square_head();
    d.upper_links[1].length_mm = 30;
    const Head head = built(d);
    ASSERT_NE(head.neutral_failure(), nullptr);
    // The arm's ball passes the ring's at (0, 25, 46) no nearer than 60 mm straight up less 25 mm of arm turned down:
    // distance from the hub centre (0, 0, 106) is sqrt(25^2 + 60^2) = 65, less the arm's 25: 40 mm.
    EXPECT_EQ(head.neutral_failure()->message, "upper link 2 is 10.00 mm too short to reach at neutral");
    ASSERT_EQ(head.neutral_failure()->shortfalls.size(), 1u);
    EXPECT_EQ(head.neutral_failure()->shortfalls[0].part, (PartName{Role::upper_link, 1}));
    EXPECT_NEAR(head.neutral_failure()->shortfalls[0].missing_mm, 10, 1e-9);
    const auto pose = head.pose(Sticks{}, 0);
    ASSERT_FALSE(pose.has_value());
    const NearestFit fit = head.nearest(head.horn_angles_deg({}), 0);
    EXPECT_EQ(fit.shortfalls.size(), 1u);
    EXPECT_NEAR((fit.pose.skeleton.grip_balls[1] - fit.pose.skeleton.outer_balls[1]).norm(), 40, 1e-9);
}

TEST(SquareHead, ALowerLinkOutOfReachAtAPoseIsNamed) {
    const Head head = built(square_head());
    // At 180 deg a horn ball lies 32 mm away sideways from where it was: 30 mm of rod do not span that on level ground.
    for (const auto& horns :
         {std::array{180.0, 180.0, 180.0}, std::array{-90.0, 90.0, -90.0}, std::array{170.0, 0.0, 0.0}}) {
        const auto pose = head.pose(horns, 0);
        ASSERT_FALSE(pose.has_value());
        ASSERT_FALSE(pose.error().shortfalls.empty()) << pose.error().message;
        EXPECT_THAT(pose.error().message,
                    ::testing::MatchesRegex("the balls that (lower|upper) link . joins are [0-9.]+ mm too "
                                            "(far apart|close together).*pose"));
    }
}

TEST(SquareHead, WrongHornCountsAndInfinitiesAreRefusedInWords) {
    const Head head = built(square_head());
    const double two[] = {0, 0}, bad[] = {0, 0, std::nan("")};
    EXPECT_EQ(head.pose(two, 0).error().message, "3 horn angles expected, one for each servo; found 2");
    EXPECT_EQ(head.pose(bad, 0).error().message, "horn angles and azimuth must be finite numbers");
}

TEST(SquareHead, TravelIsWatchedButNeverClipped) {
    const Head head = built(square_head());
    const double horns[] = {50.0, 0.0, 0.0};
    EXPECT_THAT(head.beyond_travel(horns),
                ::testing::ElementsAre("servo 60: horn at 50.0 deg, travel ends at 45.0 deg"));
}

TEST(Head, RefusesWhatCannotBeOne) {
    Description d = square_head();
    d.rotor.blades = 7;
    EXPECT_EQ(Head::build(d).error().message, "a head has 2 to 6 blades, found 7");
    d = square_head();
    d.upper_links.pop_back();
    EXPECT_EQ(Head::build(d).error().message, "nothing stops grip 2 from turning");
    d = square_head();
    d.grips.pop_back();
    EXPECT_EQ(Head::build(d).error().message, "2 grips expected, one for each blade; found 1");
    d = square_head();
    d.lower_links[1].ends = std::array{BallName{BallName::Of::servo, 4}, BallName{BallName::Of::inner_ball, 1}};
    EXPECT_EQ(Head::build(d).error().message, "lower link 2: there is no servo[5].ball, to which it should go");
    d = square_head();
    d.servos[0].horn_zero = Vec3::UnitZ();
    EXPECT_THAT(Head::build(d).error().message, HasSubstr("add raise = 1 or raise = -1"));
    d = square_head();
    d.lower_links[2].error_mm = std::nan("");
    EXPECT_THAT(Head::build(d).error().message, HasSubstr("lower link 3"));
}

TEST(Mixing, WeightsStandInForTheAzimuthRule) {
    Description d = square_head();
    d.servos[0].aileron_weight = 0.25;
    d.servos[0].collective_weight = -1;
    const Head head = built(d);
    EXPECT_NEAR(head.stick_gains_deg(0)[0], -20, 1e-12);
    EXPECT_NEAR(head.stick_gains_deg(0)[1], 2.5, 1e-12);
    EXPECT_NEAR(head.stick_gains_deg(0)[2], -10 * std::cos(60 * degree), 1e-12);
    EXPECT_NEAR(head.stick_gains_deg(1)[2], 10, 1e-12);  // the ball at the tail rises with forward stick
}

}  // namespace
}  // namespace swashwright::head
