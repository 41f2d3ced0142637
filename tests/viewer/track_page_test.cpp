// The tips in flight without a window: what is tried, kept and taken back.
#include "viewer/panels/lessons/track_page.h"

#include <gtest/gtest.h>

#include "kinematics/studies/pitch/turn_curve.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/lessons/lesson_sheet.h"

namespace swashwright::panels {
namespace {

class TrackPageTest : public HeldHead {
protected:
    TrackPageTest() : HeldHead(state_of(SWASHWRIGHT_SCENES "/three_blade_700.toml")) {
        state_.sheet = Sheet::lessons;
        state_.lessons.track_page = true;
        set_error(0.5);
    }
    void set_error(double error_mm) {
        scene::Scene next = state_.bench.document().scene();
        next.head.upper_links[1].error_mm = error_mm;
        ASSERT_TRUE(try_edit(state_.screen, state_.bench, std::move(next), "error"));
        state_.bench.end_run();
        frame();
        frame();
    }
    TrackPage& page() { return state_.lessons.track; }
    const studies::TrackSeen& seen() { return **page().seen; }
    double split_deg() {
        return studies::turn_curve(*state_.bench.live().head, state_.bench.controls.sticks)->split_deg();
    }
};

TEST_F(TrackPageTest, WhatIsTriedChangesNothingUntilItIsKeptAndUndoTakesItBack) {
    const double before = split_deg(), length = state_.bench.head().upper_links[1].length_mm;
    const auto revision = state_.bench.document().revision();
    ASSERT_GT(before, 0.3);
    for (int again = 0; again < 2; ++again) {
        page().steps = seen().best;
        frame();
        EXPECT_EQ(seen().steps, seen().best);
        EXPECT_EQ(split_deg(), before);
        if (again == 0) {
            EXPECT_EQ(state_.bench.document().revision(), revision);
        }
        const double told = seen().now.split_deg;
        keep_steps(state_.screen, state_.bench, page());
        frame();
        frame();
        EXPECT_NE(state_.bench.head().upper_links[1].length_mm, length);
        EXPECT_NEAR(split_deg(), told, 1e-3);  // another number of samples
        EXPECT_LT(split_deg(), before);
        EXPECT_EQ(seen().steps, (std::vector<int>{0, 0, 0}));
        EXPECT_EQ(seen().best, (std::vector<int>{0, 0, 0}));
        state_.bench.undo();
        frame();
        frame();
        EXPECT_EQ(state_.bench.head().upper_links[1].length_mm, length);
        EXPECT_EQ(split_deg(), before);
    }
}

TEST_F(TrackPageTest, FollowsHeadAndSticksAndLetsNoLinkGoBeyondItsReach) {
    page().steps = {0, -1, 0};
    frame();
    EXPECT_EQ(seen().steps, (std::vector<int>{0, -1, 0}));
    const double at_mid = seen().tip_mm[1];
    state_.bench.controls.sticks.collective = 0.5;
    frame();
    frame();
    EXPECT_EQ(seen().steps, (std::vector<int>{0, -1, 0}));
    EXPECT_NE(seen().tip_mm[1], at_mid);
    for (int again = 0; again < 2; ++again) {
        page().steps = {0, 500, 0};  // no link has so much thread
        frame();
        EXPECT_EQ(page().steps, (std::vector<int>{0, -1, 0}));
        frame();
        EXPECT_FALSE(page().why.empty());
        EXPECT_TRUE(state_.screen.report.widgets().contains("track why"));
        page().steps = {0, again - 3, 0};
        frame();
        EXPECT_TRUE(page().why.empty());
        page().steps = {0, -1, 0};
        frame();
    }
    set_error(0.2);  // another head: what was tried on the other is over
    EXPECT_EQ(seen().steps, (std::vector<int>{0, 0, 0}));
    EXPECT_EQ(page().of, state_.bench.document().revision());
}

// What was seen at other sticks is not told as seen at these.
TEST_F(TrackPageTest, WhereSticksGoBeyondTheReachItSaysSoAndWhatWasTriedCanBeTakenBack) {
    const auto reaches = [&](const std::vector<int>& steps, double collective) {
        return studies::track_seen(*state_.bench.live().head, {.collective = collective}, steps).has_value();
    };
    std::vector<int> steps{0, 1, 0};
    while (reaches(steps, 0) && reaches(steps, 1) && reaches(steps, -1) && steps[1] < 400) ++steps[1];
    if (!reaches(steps, 0)) --steps[1];
    const double far = reaches(steps, 1) ? -1 : 1;
    ASSERT_TRUE(reaches(steps, 0) && reaches({}, far) && !reaches(steps, far)) << steps[1];
    for (int again = 0; again < 2; ++again) {
        state_.bench.controls.sticks.collective = 0;
        page().steps = steps;
        frame();
        frame();
        ASSERT_TRUE(page().seen && *page().seen);
        EXPECT_EQ(seen().steps, steps);
        state_.bench.controls.sticks.collective = far;
        frame();
        frame();
        ASSERT_TRUE(page().seen);
        EXPECT_FALSE(*page().seen);  // why, in place of the split at other sticks
        click("track back");
        frame();
        ASSERT_TRUE(*page().seen);
        EXPECT_EQ(page().sticks.collective, far);
        EXPECT_EQ(seen().now.split_deg, studies::track_seen(*state_.bench.live().head, page().sticks)->now.split_deg);
    }
}

}  // namespace
}  // namespace swashwright::panels
