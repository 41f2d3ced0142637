// What the transmitter holds stays while metal is moved.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"
#include "kinematics/head/solver.h"
#include "kinematics/studies/diagnosis/faults.h"
#include "tests/support/random_head.h"

namespace swashwright::head {
namespace {

using swashwright::testing::Draw;
using swashwright::testing::random_head;

RC_GTEST_PROP(MixerKept, HornsGoWhereTheyWentWhereverTheBallsStand, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    Draw draw(bits);
    const Description d = random_head(bits);
    Description kept = mixer_kept(*Head::build(d));
    const Sticks sticks{draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1)};
    const auto before = Head::build(d), same = Head::build(kept);
    RC_ASSERT(before.has_value() && same.has_value());
    RC_ASSERT(before->horn_angles_deg(sticks) == same->horn_angles_deg(sticks));
    for (Polar& ball : kept.swashplate.inner_balls) ball.angle_deg += draw.between(-20, 20);
    const auto moved = Head::build(kept);
    RC_ASSERT(moved.has_value());
    RC_ASSERT(before->horn_angles_deg(sticks) == moved->horn_angles_deg(sticks));
    // Kept once is kept: what was set up first stays.
    RC_ASSERT(Head::build(mixer_kept(*Head::build(kept)))->horn_angles_deg(sticks) == before->horn_angles_deg(sticks));
}

// Unequal end points: more where a servo raises its ball, less where it lowers it. Central differences over 2e-5 of a
// stick or degree leave 1e-8 of curvature and 1e-8 of rounding. At no command travel has a kink; there both sides
// count, and commands that differences would take across it are left out.
RC_GTEST_PROP(EndShare, SlopesByStickAndByTravelFollowTheEndThatIsUsed, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    Draw draw(bits);
    Description d = mixer_kept(*Head::build(random_head(bits)));
    for (Servo& servo : d.servos) servo.end_share = {draw.between(0.8, 1.2), draw.between(0.8, 1.2)};
    const bool neutral = draw.chance(0.2);
    const auto off = [&] { return neutral ? 0 : draw.between(-0.6, 0.6); };
    const Sticks sticks{off(), off(), off()};
    const double azimuth = draw.between(0, 360);
    const auto head = Head::build(d);
    RC_ASSERT(head.has_value());
    Solver solver(*head);
    RC_PRE(solver.pose(sticks, azimuth) && solver.linearise());
    constexpr double kink_deg = 1e-3;  // 40 deg of travel and 2 deg of phase change by less over a difference
    for (std::size_t j = 0; j < d.servos.size(); ++j)
        RC_PRE(neutral || std::abs(head->horn_angle_deg(j, sticks) - head->horn_angle_deg(j, {})) > kink_deg);
    const auto differ = [&](const Head& more, const Sticks& up, const Head& less, const Sticks& down, double h) {
        Solver a(more), b(less);
        RC_ASSERT(a.pose(up, azimuth) && b.pose(down, azimuth));
        return (a.pitch_deg(0) - b.pitch_deg(0)) / (2 * h);
    };
    Slopes slopes;
    constexpr double h = 1e-5;
    for (const auto& [stick, member] : {std::pair{Solver::Stick::collective, &Sticks::collective},
                                        {Solver::Stick::aileron, &Sticks::aileron},
                                        {Solver::Stick::elevator, &Sticks::elevator}}) {
        solver.slopes_by_stick(stick, slopes);
        Sticks up = sticks, down = sticks;
        up.*member += h, down.*member -= h;
        RC_ASSERT(std::abs(slopes.pitch_deg[0] - differ(*head, up, *head, down, h)) < 1e-5);
    }
    for (const char* path : {"mixing.collective_deg", "mixing.cyclic_deg", "mixing.phase_deg"}) {
        const auto number = number_at(d, path);
        RC_ASSERT(number.has_value());
        solver.slopes_by(*number, slopes, sticks);
        Description more = d, less = d;
        value(more, *number) += h, value(less, *number) -= h;
        RC_ASSERT(std::abs(slopes.pitch_deg[0] - differ(*Head::build(more), sticks, *Head::build(less), sticks, h)) <
                  1e-5);
    }
}

TEST(EndShare, EachEndHasItsOwn) {
    Description d = mixer_kept(*Head::build(random_head(std::uint64_t{5})));
    const Sticks up{0.7, 0.1, -0.2}, down{-0.7, -0.1, 0.2};
    const auto even = Head::build(d);
    d.servos[1].end_share = {0.9, 1.2};
    const auto uneven = Head::build(d);
    const auto told = [](const Head& head, const Sticks& sticks) {
        const Servo& servo = head.description().servos[1];
        return (head.horn_angle_deg(1, sticks) - servo.neutral_deg - servo.trim_deg) * *servo.raise;
    };
    const bool raises = told(*even, up) > 0;
    EXPECT_NEAR(told(*uneven, up), (raises ? 1.2 : 0.9) * told(*even, up), 1e-12);
    EXPECT_NEAR(told(*uneven, down), (raises ? 0.9 : 1.2) * told(*even, down), 1e-12);
    EXPECT_EQ(uneven->horn_angle_deg(1, {}), even->horn_angle_deg(1, {}));
    EXPECT_EQ(uneven->horn_angle_deg(0, up), even->horn_angle_deg(0, up));
}

// A horn that stands steeply, set some teeth round on its spline past upright: the ball goes down where it went up, and
// no transmitter turns its channel about by itself.
TEST(MixerKept, AServoKeepsItsSenseWhenItsHornIsSetPastUpright) {
    Description d = random_head(std::uint64_t{11});
    d.servos[0].neutral_deg += 75;
    d.servos[0].trim_deg = 0;
    const auto sound = Head::build(d);
    ASSERT_TRUE(sound);
    Description faulty = mixer_kept(*Head::build(d)), unheld = d;
    const double sense = sound->raise_signs()[0];
    for (const int teeth : {-2, 2}) {
        studies::Fault fault;
        fault.kind = studies::FaultKind::horn_tooth, fault.teeth = teeth;
        Description with = faulty;
        studies::apply(fault, 0, with);
        const auto head = Head::build(with);
        ASSERT_TRUE(head);
        EXPECT_EQ(head->raise_signs()[0], sense) << teeth;
    }
    // One of the two does pass upright: a head described so anew would have the other sense.
    int turned = 0;
    for (const double trim : {-28.8, 28.8}) {
        unheld.servos[0].trim_deg = trim;
        const auto head = Head::build(unheld);
        turned += head && head->raise_signs()[0] != sense;
    }
    EXPECT_GE(turned, 1);
}

}  // namespace
}  // namespace swashwright::head
