// Which way servos and ring go. Signs are those of the trade's sticks (up, right, forward) as the scene format defines
// them: positive collective raises the ring, so a servo under it raises its ball; aileron is to the right, elevator
// nose down.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "kinematics/studies/bench/bench_steps.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using ::testing::AllOf;
using ::testing::Each;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::SizeIs;

std::vector<BenchStep> steps_with(const Description& d, const std::string& begin) {
    std::vector<BenchStep> out = bench_steps(Head::build(d).value()).value();
    std::erase_if(out, [&](const BenchStep& step) { return !step.say.starts_with(begin); });
    return out;
}

std::vector<std::string> said(const Description& d, const std::string& begin) {
    std::vector<std::string> out;
    const auto steps = steps_with(d, begin);
    for (const BenchStep& step : steps) out.push_back(step.say);
    return out;
}

TEST(BenchServos, UpStickRaisesTheBallsOfServosUnderTheRing) {
    for (const char* file : {"two_blade_600.toml", "three_blade_700.toml"}) {
        Description d = testing::demo(file);
        EXPECT_THAT(said(d, "Collective up"), AllOf(SizeIs(3), Each(HasSubstr(" goes up.")))) << file;
        d.mixing.collective_deg *= -1;
        EXPECT_THAT(said(d, "Collective up"), AllOf(SizeIs(3), Each(HasSubstr(" goes down.")))) << file;
        const auto steps = steps_with(d, "Collective up");
        for (const BenchStep& step : steps) EXPECT_EQ(step.way, BenchWay::ball_down);
    }
}

// The servos lie low, their horns hang down and pull level rods: the bellcrank in front of the ring pushes up where
// its rod is pulled to the nose, the one behind it where its rod is pulled to the tail.
TEST(BenchServos, AHornThatHangsDownGoesToAndFro) {
    Description d = testing::demo("bellcranks_500.toml");
    const std::vector<std::string> up = said(d, "Collective up");
    ASSERT_THAT(up, SizeIs(3));
    EXPECT_THAT(up, Each(HasSubstr("towards the")));
    d.mixing.collective_deg *= -1;
    const std::vector<std::string> down = said(d, "Collective up");
    for (std::size_t j = 0; j < 3; ++j) {
        EXPECT_NE(up[j], down[j]);
        EXPECT_EQ(up[j].find("nose") == std::string::npos, down[j].find("nose") != std::string::npos);
    }
}

TEST(BenchServos, HornsAreOnTheirServosBeforeTheirBallsAreLookedAtAndLinksComeOnAfter) {
    const auto steps = bench_steps(testing::demo_head("two_blade_600.toml")).value();
    const auto at = [&](const std::string& words) {
        return std::ranges::find_if(steps,
                                    [&](const BenchStep& step) {
                                        return (step.say + " " + step.more).find(words) != std::string::npos;
                                    }) -
               steps.begin();
    };
    const auto off = at("Horns off their servos"), on = at("every horn loosely on its servo"), way = at("goes up"),
               square = at("stands square to its link"), ring = at("the top of the ball above");
    ASSERT_LT(ring, static_cast<std::ptrdiff_t>(steps.size()));
    EXPECT_LT(off, on);
    EXPECT_LT(on, way);
    EXPECT_LT(way, square);
    EXPECT_LT(square, ring);
    EXPECT_THAT(steps[static_cast<std::size_t>(on)].more, HasSubstr("link still off"));
    EXPECT_THAT(steps[static_cast<std::size_t>(square)].more, HasSubstr("its link on"));
}

TEST(BenchCyclic, TheRingGoesDownTheWayTheStickGoes) {
    for (const char* file :
         {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml", "bellcranks_500.toml",
          "four_servos_700.toml", "hinged_links_450.toml", "stabiliser_bar_600.toml"}) {
        const Description d = testing::demo(file);
        ASSERT_EQ(d.mixing.phase_deg, 0) << file;
        EXPECT_THAT(said(d, "Aileron"), ElementsAre(HasSubstr("the ring goes down towards the right."))) << file;
        EXPECT_THAT(said(d, "Elevator"), ElementsAre(HasSubstr("the ring goes down towards the nose."))) << file;
    }
}

// A phase turns the ring's tilt clockwise seen from above: nose, right, tail, left.
TEST(BenchCyclic, FollowsThePhase) {
    Description d = testing::demo("two_blade_600.toml");
    d.mixing.phase_deg = 90;
    EXPECT_THAT(said(d, "Aileron"), ElementsAre(HasSubstr("towards the tail.")));
    EXPECT_THAT(said(d, "Elevator"), ElementsAre(HasSubstr("towards the right.")));
    d.mixing.phase_deg = 45;
    EXPECT_THAT(said(d, "Elevator"), ElementsAre(HasSubstr("towards the nose on the right.")));
}

TEST(BenchCyclic, IsLookedAtOnALevelRingBeforeZeroPitchAndNoServoIsReversedForIt) {
    const auto steps = bench_steps(testing::demo_head("two_blade_600.toml")).value();
    std::vector<std::string> stages;
    for (const BenchStep& step : steps)
        if (stages.empty() || stages.back() != step.stage) stages.push_back(step.stage);
    EXPECT_THAT(stages, ElementsAre("Servos", "Level ring", "Cyclic", "Zero pitch", "Ends", "Track"));
    const auto cyclic = steps_with(testing::demo("two_blade_600.toml"), "Aileron");
    ASSERT_THAT(cyclic, SizeIs(1));
    EXPECT_THAT(cyclic.front().more,
                AllOf(HasSubstr("change the sign of the aileron mix: reverse no servo"), Not(HasSubstr("wrong way"))));
    EXPECT_GT(cyclic.front().sticks.aileron, 0);
}

TEST(BenchCyclic, AHeadWhoseMixIsWrongIsToldOf) {
    Description d = testing::demo("two_blade_600.toml");
    d.mixing.cyclic_deg *= -1;
    const auto steps = steps_with(d, "Aileron");
    ASSERT_THAT(steps, SizeIs(1));
    EXPECT_THAT(steps.front().say, HasSubstr("towards the left."));
    EXPECT_THAT(steps.front().more, HasSubstr("As this head is described, that tilts the disc the wrong way"));
}

}  // namespace
}  // namespace swashwright::studies
