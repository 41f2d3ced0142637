// What the transmitter holds stays while metal is moved.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"
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
