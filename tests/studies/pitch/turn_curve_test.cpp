#include "kinematics/studies/pitch/turn_curve.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using testing::demo;

head::Head built(const head::Description& description) {
    auto head = head::Head::build(description);
    EXPECT_TRUE(head) << (head ? "" : head.error().message);
    return *head;
}

TEST(TurnCurve, HoldsThePitchThatThePoseGivesAtEverySample) {
    const head::Head head = built(demo("three_blade_700.toml"));
    const head::Sticks sticks{.collective = 0.4, .aileron = -0.6, .elevator = 0.3};
    const auto curve = turn_curve(head, sticks, 48);
    ASSERT_TRUE(curve);
    for (std::size_t i = 0; i < curve->azimuth_deg.size(); ++i) {
        const auto pose = head.pose(sticks, curve->azimuth_deg[i]);
        ASSERT_TRUE(pose);
        for (std::size_t k = 0; k < 3; ++k) EXPECT_NEAR(curve->blades[k].pitch_deg[i], pose->pitch_deg[k], 1e-9);
    }
}

TEST(TurnCurve, SamplesEveryBladeAtTheSamePlacesOnTheDisc) {
    const auto curve = turn_curve(built(demo("three_blade_700.toml")), {}, 100);
    ASSERT_TRUE(curve);
    EXPECT_EQ(curve->azimuth_deg.size() % 3, 0U);
    EXPECT_GE(curve->azimuth_deg.size(), 100U);
    EXPECT_EQ(curve->azimuth_deg.front(), 0.0);
    EXPECT_LT(curve->azimuth_deg.back(), 360.0);
}

// On a symmetrical head blade 2 does half a turn later what blade 1 does now, whatever the sticks.
TEST(TurnCurve, BladesOfASoundHeadFollowOneAnother) {
    const auto curve =
        turn_curve(built(demo("two_blade_600.toml")), {.collective = 0.3, .aileron = 0.7, .elevator = -0.5}, 60);
    ASSERT_TRUE(curve);
    const std::size_t half = curve->azimuth_deg.size() / 2;
    for (std::size_t i = 0; i < 2 * half; ++i)
        EXPECT_NEAR(curve->blades[1].pitch_deg[i], curve->blades[0].pitch_deg[(i + half) % (2 * half)], 1e-9);
    EXPECT_LT(curve->split_deg(), 1e-9);
    EXPECT_GT(curve->blades[0].most_deg - curve->blades[0].least_deg, 5.0);
}

TEST(TurnCurve, TellsTheSplitAndWhoseBladeIsHigh) {
    head::Description description = demo("two_blade_600.toml");
    description.grips[1].pitch_offset_deg = 0.25;  // added to the pitch as it is: the split must be just that
    const auto curve = turn_curve(built(description), {.collective = 0.5});
    ASSERT_TRUE(curve);
    EXPECT_EQ(curve->highest_blade, 1U);
    EXPECT_EQ(curve->lowest_blade, 0U);
    EXPECT_NEAR(curve->split_deg(), 0.25, 1e-9);
}

TEST(TurnCurve, SaysAtWhichAzimuthTheTurnStops) {
    head::Description description = demo("two_blade_600.toml");
    description.upper_links[1].length_mm = 30;
    const auto curve = turn_curve(built(description), {});
    ASSERT_FALSE(curve);
    EXPECT_NE(curve.error().message.find("at rotor azimuth 0 deg"), std::string::npos) << curve.error().message;
}

}  // namespace
}  // namespace swashwright::studies
