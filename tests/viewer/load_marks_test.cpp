// Forces over the picture: what they are, when they are there.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/live/live_value.h"
#include "tests/support/demo_head.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"

namespace swashwright::panels {
namespace {

class LoadMarks : public HeldHead {
protected:
    LoadMarks() : HeldHead(state_of(testing::two_blade_file)) { frame(), frame(); }

    Question& card() { return *std::ranges::find(state_.questions, "loads", &Question::key); }
    draw::LoadMarks marks() {
        const Readout& live = state_.bench.live();
        LoadWatch watch;
        return watch.measure(*state_.view.forces, *live.head, state_.bench.document().revision(), *live.shown);
    }
    double value(const std::string& name) {
        return *studies::live_value(*state_.bench.live().head, state_.bench.controls.sticks,
                                    state_.bench.controls.azimuth_deg, name);
    }
};

TEST_F(LoadMarks, AreThereWhileTheirQuestionIsOpen) {
    EXPECT_FALSE(state_.view.forces);
    state_.sheet = Sheet::questions;
    card().open = true;
    frame();
    ASSERT_TRUE(state_.view.forces);
    EXPECT_FALSE(state_.view.forces->head_speed_rpm);
    card().values.set("speed", 1500.0);
    frame();
    EXPECT_EQ(state_.view.forces->head_speed_rpm, 1500);
    state_.sheet = Sheet::lessons;
    frame();
    EXPECT_FALSE(state_.view.forces);
}

// Asked, moved, asked again: the marks are the live values of links and horns.
TEST_F(LoadMarks, FollowTheSticks) {
    state_.sheet = Sheet::questions;
    card().open = true;
    for (const double collective : {1.0, -0.6}) {
        state_.bench.controls.sticks.collective = collective;
        state_.bench.controls.sticks.elevator = 0.3;
        frame();
        const draw::LoadMarks found = marks();
        ASSERT_EQ(found.forces.size(), 5U);
        ASSERT_EQ(found.moments.size(), 3U);
        EXPECT_NEAR(found.forces[3].newtons, value("upper_link[1].force_n"), 1e-9);
        EXPECT_THAT(found.forces[3].words, ::testing::EndsWith(found.forces[3].newtons > 0 ? "pull" : "push"));
        EXPECT_EQ(found.forces[3].name, "upper link 1");
        EXPECT_EQ(found.moments[0].name, "servo left");
        EXPECT_LT(found.forces[3].newtons * collective, 0);  // a leading arm's link is pushed where pitch is up
        EXPECT_EQ(found.moments[0].words, fmt::format("{:.0f} N mm", std::abs(value("servo[1].load_nmm"))));
    }
    state_.bench.controls.sticks = {};
    frame();
    EXPECT_TRUE(marks().forces.empty());  // flat blades pull at nothing
}

// The card's plot is of the sticks and the numbers as they are at each asking.
TEST_F(LoadMarks, HaveAPlotAroundTheTurnThatFollowsToo) {
    LoadTurnWatch& watch = card().loads;
    const auto most = [&](double collective) {
        const auto& turn = watch.measure(*state_.bench.live().head, state_.bench.document().revision(),
                                         {collective, 0, 0}, card().values);
        return turn ? std::ranges::max(turn->horns_nmm[0], {}, [](double nmm) { return std::abs(nmm); }) : 0.0;
    };
    const double up = most(1), down = most(-1);
    EXPECT_GT(std::abs(up), 50);
    EXPECT_LT(up * down, 0);
    EXPECT_DOUBLE_EQ(most(1), up);
    card().values.set("speed", 1000.0);
    EXPECT_LT(std::abs(most(1)), std::abs(up) / 3);  // with the square of the speed, from 2000
    card().values.set("speed", std::monostate{});
    EXPECT_DOUBLE_EQ(most(1), up);
}

}  // namespace
}  // namespace swashwright::panels
