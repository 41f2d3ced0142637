// Levers, sliders, balls, links and pins come and go; what names other parts goes on naming them. A bellcrank put in
// between and taken out again leaves the head as it was.
#include "kinematics/head/change_parts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "kinematics/head/head.h"
#include "kinematics/head/standing.h"
#include "kinematics/scene/scene.h"
#include "tests/support/demo_head.h"

namespace swashwright::head {
namespace {

using ::testing::HasSubstr;
using Of = BallName::Of;

std::string text(const Description& d) {
    scene::Scene scene;
    scene.head = d;
    return scene::write(scene);
}

std::vector<Description> heads() {
    std::vector<Description> out{testing::demo("two_blade_600.toml")};
    for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_TEST_DATA "/linkages"))
        if (entry.path().extension() == ".toml") out.push_back(scene::load(entry.path().string())->head);
    return out;
}

TEST(ChangeParts, WhatIsAddedAndTakenAwayAgainLeavesTheHeadAsItWas) {
    for (const Description& d : heads()) {
        const int lever = static_cast<int>(d.levers.size()), slider = static_cast<int>(d.sliders.size());
        EXPECT_EQ(text(with_lever_removed(with_lever_added(d)->head, lever)->head), text(d));
        EXPECT_EQ(text(with_slider_removed(with_slider_added(d)->head, slider)->head), text(d));
        const auto ball = [](Of of, std::size_t count) { return BallName{of, static_cast<int>(count)}; };
        EXPECT_EQ(
            text(with_ball_removed(with_fixed_ball_added(d)->head, ball(Of::fixed_ball, d.fixed_balls.size()))->head),
            text(d));
        EXPECT_EQ(text(with_ball_removed(with_ring_ball_added(d, Of::inner_ball)->head,
                                         ball(Of::inner_ball, d.swashplate.inner_balls.size()))
                           ->head),
                  text(d));
        const auto ends = likely_ends(d);
        ASSERT_TRUE(ends);
        const int link = static_cast<int>(d.links.size()), pin = static_cast<int>(d.pins.size());
        EXPECT_EQ(text(with_link_removed(with_link_added(d, *ends, 30)->head, {Role::other_link, link})->head),
                  text(d));
        EXPECT_EQ(text(with_pin_removed(with_pin_added(d, *ends)->head, pin)->head), text(d));
        for (int i = 0; i < lever; ++i) {
            const auto more = with_lever_ball_added(d, i);
            const auto last = static_cast<int>(more->head.levers[static_cast<std::size_t>(i)].balls_mm.size()) - 1;
            EXPECT_EQ(text(with_ball_removed(more->head, {Of::lever, i, last})->head), text(d));
        }
        EXPECT_FALSE(with_lever_removed(d, lever));
        EXPECT_FALSE(with_slider_removed(d, -1));
        EXPECT_FALSE(with_ball_removed(d, {Of::servo, 0}));
    }
}

TEST(ChangeParts, WhatSomethingStillNeedsIsNotTakenAwayAndWhatNeedsItIsNamed) {
    const Description d = scene::load(SWASHWRIGHT_TEST_DATA "/linkages/bellcrank_01.toml")->head;
    EXPECT_THAT(with_lever_removed(d, 1).error(), HasSubstr("Bellcrank 2 is still needed: lower link 2 goes to"));
    EXPECT_THAT(with_ball_removed(d, {Of::lever, 0, 0}).error(), HasSubstr("servo rod 1 goes to bellcrank 1, ball 1"));
    Description carried = d;
    carried.fixed_balls.push_back({{Carrier::On::lever, 2}, 0, {1, 2, 3}});
    carried.links.clear();
    for (int j = 0; j < 3; ++j) set_ends(carried, {Role::lower_link, j}, {BallName{Of::servo, j}, {Of::inner_ball, j}});
    EXPECT_THAT(with_lever_removed(carried, 2).error(), HasSubstr("fixed ball 1 stands on it"));
    // The first goes, and what stood on the third stands on what is the second now.
    const auto without = with_lever_removed(carried, 0);
    ASSERT_TRUE(without);
    EXPECT_EQ(without->head.levers[1].name, "bellcrank 3");
    EXPECT_EQ(without->head.fixed_balls[0].on, (Carrier{Carrier::On::lever, 1}));
}

TEST(ChangeParts, ShapesOnALeverGoWithItsNumber) {
    Description d = scene::load(SWASHWRIGHT_TEST_DATA "/linkages/bellcrank_01.toml")->head;
    d.links.clear();
    for (int j = 0; j < 3; ++j) set_ends(d, {Role::lower_link, j}, {BallName{Of::servo, j}, {Of::inner_ball, j}});
    d.solids.emplace_back().part = "lever[3]";
    EXPECT_THAT(with_lever_removed(d, 2).error(), HasSubstr("a shape of the scene"));
    EXPECT_EQ(with_lever_removed(d, 0)->head.solids.back().part, "lever[2]");
    EXPECT_EQ(with_lever_removed(d, 0)->head.levers[1].name, "bellcrank 3");
}

TEST(ChangeParts, LinksThatNameNoEndsGoOnJoiningWhatTheyJoined) {
    const Description d = testing::demo("two_blade_600.toml");
    const auto without = with_link_removed(d, {Role::lower_link, 0});
    ASSERT_TRUE(without);
    const auto ends = *ends_of(without->head, {Role::lower_link, 0});
    EXPECT_EQ(ends[0], (BallName{Of::servo, 1}));
    EXPECT_EQ(ends[1], (BallName{Of::inner_ball, 1}));
    // Its inner ball goes too: the others move up, and the links with them.
    const auto fewer = with_ball_removed(without->head, {Of::inner_ball, 0});
    ASSERT_TRUE(fewer);
    EXPECT_EQ((*ends_of(fewer->head, {Role::lower_link, 1}))[1], (BallName{Of::inner_ball, 1}));
    EXPECT_EQ((*ends_of(fewer->head, {Role::lower_link, 1}))[0], (BallName{Of::servo, 2}));
}

/// What the solver finds is what `standing` places, once every lever's angle is told.
TEST(Standing, PlacesLeversSlidersAndBallsWhereTheSolverHasThem) {
    for (Description d : heads()) {
        const auto pose = Head::build(d)->pose({0.3, 0.2, -0.1, 0.4}, 25);
        ASSERT_TRUE(pose);
        const Description before = [&] {
            Description other = d;  // nothing in it is like what it is now
            for (Lever& lever : other.levers) lever.name += " as it was";
            for (Slider& slider : other.sliders) slider.name += " as it was";
            return other;
        }();
        for (std::size_t i = 0; i < d.levers.size(); ++i) d.levers[i].angle_deg = pose->lever_deg[i];
        for (std::size_t i = 0; i < d.sliders.size(); ++i) d.sliders[i].place_mm = pose->slider_mm[i];
        for (const Description& known : {before, d}) {
            const Pose stands = standing(d, known, *pose);
            ASSERT_EQ(stands.skeleton.lever_balls.size(), d.levers.size());
            const auto near = [](const Vec3& a, const Vec3& b) { EXPECT_LT((a - b).norm(), 1e-9); };
            for (std::size_t i = 0; i < d.levers.size(); ++i)
                for (std::size_t b = 0; b < d.levers[i].balls_mm.size(); ++b)
                    near(stands.skeleton.lever_balls[i][b], pose->skeleton.lever_balls[i][b]);
            for (std::size_t i = 0; i < d.sliders.size(); ++i)
                near(stands.skeleton.sliders[i].origin, pose->skeleton.sliders[i].origin);
            for (std::size_t i = 0; i < d.fixed_balls.size(); ++i)
                near(stands.skeleton.fixed_balls[i], pose->skeleton.fixed_balls[i]);
            for (std::size_t i = 0; i < pose->skeleton.inner_balls.size(); ++i)
                near(stands.skeleton.inner_balls[i], pose->skeleton.inner_balls[i]);
            for (std::size_t i = 0; i < pose->skeleton.outer_balls.size(); ++i)
                near(stands.skeleton.outer_balls[i], pose->skeleton.outer_balls[i]);
        }
    }
}

}  // namespace
}  // namespace swashwright::head
