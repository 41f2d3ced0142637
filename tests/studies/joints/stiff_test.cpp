#include "kinematics/studies/joints/stiff.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

#include "kinematics/head/solver.h"
#include "tests/support/random_head.h"
#include "tests/support/square_head.h"

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

// Virtual work by hand. With all three horns moving together by da the ring rises by r da (r = 15 mm, horns level), and
// every upper link turns its grip by r / 25 da. Links stay upright to first order, so each lower link's ball turns by
// da against the horn and not at all against the ring, each upper link's by r / 25 da against the grip; the grips'
// bearings by the same. One horn's share: its own ball link in full; by symmetry the three horns together bear the
// rest. Work of collective = sum over joints; the horns' single moments are found from motions of one horn each, whose
// rates add up (linear), so their sum bounds it from above: friction takes sizes.
TEST(Friction, OfASquareHeadIsTheVirtualWorkDoneByHand) {
    const auto head = head::Head::build(testing::square_head(testing::three_around));
    ASSERT_TRUE(head) << head.error().message;
    ASSERT_EQ(head->neutral_failure(), nullptr);
    FrictionOptions only_horn_balls;
    only_horn_balls.ball_nmm = 0;
    only_horn_balls.bearing_nmm = 0;
    only_horn_balls.odd = {{"lower_link[3]", 1.0}};
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

// The same head with friction in bearings only, 1 N mm each. A horn that moves alone by da tips the ring by 0.4 da, and
// at a place that lies p from its own ball round the ring lifts it by 0.4 (12.5 + 25 cos p) da. The pitch arms of 25 mm
// stand over the outer balls, so a grip turns by 0.4 |0.5 + cos p|. Two blades are half a turn apart; the rotor is
// looked at every 15 deg, and balls stand 60 deg apart, so cos p = 1 is among what is seen.
TEST(Friction, OfBearingsAndWhatItLeavesAtTheBladesIsAsByHand) {
    const auto head = head::Head::build(testing::square_head(testing::three_around));
    ASSERT_TRUE(head && !head->neutral_failure());
    FrictionOptions bearings;
    bearings.ball_nmm = 0;
    bearings.bearing_nmm = 1;
    bearings.servo_nmm_per_deg = 50;
    const auto found = friction(*head, bearings);
    ASSERT_TRUE(found) << found.error().message;
    const auto grip = [](double from_ball_deg) { return 0.4 * std::abs(0.5 + std::cos(from_ball_deg * degree)); };
    const auto moment = [&](double from_ball_deg) { return 0.4 + grip(from_ball_deg) + grip(from_ball_deg + 180); };
    double off = 0;
    for (int place = 0; place < 360; place += 15) {
        double here = 0;
        for (const double ball : {60.0, -60.0, 180.0}) here += grip(place - ball) * moment(place - ball) / 50;
        off = std::max(off, here);
    }
    for (const HornFriction& horn : found->horns) EXPECT_NEAR(horn.nmm, moment(0), 1e-9);
    EXPECT_NEAR(moment(0), 1.2, 1e-12);
    for (const double blade : found->off_deg) EXPECT_NEAR(blade, off, 1e-9);
}

/// Rotation vector from one placement to another over `step`.
Vec3 turning_rate(const Placement& from, const Placement& to, double step) {
    const Eigen::AngleAxisd turn(Mat3(to.turn * from.turn.transpose()));
    return turn.angle() / step * turn.axis();
}

/// How a rod and the parts at its ends turn between two poses `step` (rad) apart, by differences: rates in both ball
/// links together, with the rod's roll that is easiest.
double ball_turning(const std::array<Placement, 2>& low, const std::array<Placement, 2>& high,
                    const std::array<Vec3, 2>& rod, double step) {
    const Vec3 u = (rod[0] + rod[1]).normalized();
    const Vec3 swing = u.cross(rod[1].normalized() - rod[0].normalized()) / step;
    const Vec3 a = turning_rate(low[0], low[1], step) - swing, b = turning_rate(high[0], high[1], step) - swing;
    const auto sum = [&](double roll) { return (a - roll * u).norm() + (b - roll * u).norm(); };
    double from = -10, to = 10;  // the sum of two lengths has one least place
    for (int n = 0; n < 90; ++n) {
        const double one = from + (to - from) / 3, two = to - (to - from) / 3;
        if (sum(one) < sum(two))
            to = two;
        else
            from = one;
    }
    return sum((from + to) / 2);
}

/// Moment at the horn by virtual work between two poses.
double moment_between(const head::Skeleton& p, const head::Skeleton& q, double step, const FrictionOptions& options,
                      double lower_0_nmm, double upper_1_nmm) {
    double moment = options.bearing_nmm * turning_rate(p.inner_ring, q.inner_ring, step).norm();
    for (std::size_t j = 0; j < p.horns.size(); ++j)
        moment += (j == 0 ? lower_0_nmm : options.ball_nmm) *
                  ball_turning({p.horns[j], q.horns[j]}, {p.inner_ring, q.inner_ring},
                               {p.inner_balls[j] - p.horn_balls[j], q.inner_balls[j] - q.horn_balls[j]}, step);
    for (std::size_t k = 0; k < p.grips.size(); ++k)
        moment += options.bearing_nmm * turning_rate(p.grips[k], q.grips[k], step).norm() +
                  (k == 1 ? upper_1_nmm : options.ball_nmm) *
                      ball_turning({p.outer_ring, q.outer_ring}, {p.grips[k], q.grips[k]},
                                   {p.grip_balls[k] - p.outer_balls[k], q.grip_balls[k] - q.outer_balls[k]}, step);
    return moment;
}

// From poses alone while one horn goes 0.02 deg. Central differences leave some 1e-7 of the rates, which are of the
// order of 1.
TEST(Friction, IsTheVirtualWorkFoundByDifferencesOnRandomHeads) {
    std::mt19937_64 bits(9);
    int seen = 0;
    for (int i = 0; i < 120; ++i) {
        const auto head = head::Head::build(testing::random_head(bits));
        if (!head || head->neutral_failure()) continue;
        testing::Draw draw(bits);
        FrictionOptions options;
        options.sticks = {draw.between(-0.8, 0.8), draw.between(-0.6, 0.6), draw.between(-0.6, 0.6)};
        options.odd = {{"upper_link[2]", 12.0}, {"lower_link[1]", 0.2}};
        const auto found = friction(*head, options);
        if (!found) continue;
        for (std::size_t j = 0; j < found->horns.size(); ++j) {
            constexpr double step_deg = 0.02;
            auto horns = head->horn_angles_deg(options.sticks);
            horns[j] -= step_deg / 2;
            const auto before = head->pose(horns, found->horns[j].azimuth_deg);
            horns[j] += step_deg;
            const auto after = head->pose(horns, found->horns[j].azimuth_deg);
            ASSERT_TRUE(before && after);
            const double wanted =
                moment_between(before->skeleton, after->skeleton, step_deg * degree, options, 0.2, 12.0);
            EXPECT_NEAR(found->horns[j].nmm, wanted, 1e-5 * wanted) << i;
            ++seen;
        }
    }
    EXPECT_GT(seen, 200);
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

// The moments are those of the second test above: 1.2 N mm at each horn, of which the ring's own ball takes 0.4.
TEST(Friction, AnswerNamesTheWorstHornAndWhereItsMomentGoes) {
    const head::Description d = testing::square_head(testing::three_around);
    FrictionOptions bearings;
    bearings.ball_nmm = 0;
    bearings.bearing_nmm = 1;
    Friction found = *friction(*head::Head::build(d), bearings);
    found.horns[1].nmm = 1.3;  // the three are alike; now one is worst
    const Answer a = answer(found, d);
    EXPECT_EQ(a.study, "stiff");
    EXPECT_EQ(a.text.find("Friction takes up to 1.3 N mm at the horn of servo "), 0U) << a.text;
    ASSERT_EQ(a.tables.size(), 3U);
    EXPECT_EQ(a.tables[0].rows.size(), 3U);
    EXPECT_EQ(a.tables[0].parts[1], found.horns[1].shares.front().part);
    double sum = 0;
    for (std::size_t i = 0; i < a.tables[1].rows.size(); ++i) {
        sum += std::get<double>(a.tables[1].rows[i][1]);
        if (a.tables[1].parts[i] == "swashplate") {
            EXPECT_NEAR(std::get<double>(a.tables[1].rows[i][1]), 0.4, 1e-9);
        }
    }
    EXPECT_NEAR(sum, 1.2, 1e-9);
    EXPECT_EQ(a.tables[2].parts.back(), "grip[2]");
    EXPECT_NEAR(std::get<double>(a.tables[2].rows[0][1]), found.off_deg[0], 1e-12);
    for (const Table& table : a.tables) EXPECT_EQ(table.rows.size(), table.parts.size()) << table.key;
}

TEST(Friction, AnswerOfAHornThatNothingHoldsNamesNoJoint) {
    const head::Description d = testing::square_head(testing::three_around);
    FrictionOptions none;
    none.ball_nmm = none.bearing_nmm = 0;
    const auto found = friction(*head::Head::build(d), none);
    ASSERT_TRUE(found) << found.error().message;
    const Answer a = answer(*found, d);
    EXPECT_EQ(a.tables[0].rows[0][3], Cell());
    EXPECT_EQ(a.tables[0].parts[0], "servo[1]");
    EXPECT_TRUE(a.tables[1].rows.empty());
}

TEST(Friction, SaysWhereTheHeadDoesNotClose) {
    head::Description d = testing::square_head(testing::three_around);
    FrictionOptions full;
    full.sticks = {1, 1, 1};
    d.mixing.collective_deg = -120;  // the horns go past the bottom, and the links cannot follow
    const auto found = friction(*head::Head::build(d), full);
    ASSERT_FALSE(found);
    EXPECT_EQ(found.error().message.find("at rotor azimuth "), 0U) << found.error().message;
}

}  // namespace
}  // namespace swashwright::studies
