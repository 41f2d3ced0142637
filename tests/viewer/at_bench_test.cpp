// One step at a time: what is drawn fits the window, keys go on and back, what was read and where one was outlast the
// program.
#include "viewer/panels/at_bench/at_bench.h"

#include <gmock/gmock.h>

#include "tests/viewer/at_the_bench.h"
#include "viewer/document/today.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/window/shortcuts.h"
#include "viewer/sheet/words.h"

namespace swashwright::panels {
namespace {

using ::testing::HasSubstr;

TEST_F(AtTheBench, BeginsWithTheCautionsAndEndsWithTheBolts) {
    press(GLFW_KEY_W);
    ASSERT_TRUE(state_.at_bench.open);
    EXPECT_THAT(step().say, HasSubstr("motor disconnected"));
    EXPECT_THAT(state_.at_bench.steps.back().say, HasSubstr("looked at once more"));
    const std::size_t all = state_.at_bench.steps.size();
    press(GLFW_KEY_SPACE, static_cast<int>(all) - 1);
    EXPECT_EQ(state_.at_bench.at, all - 1);
    press(GLFW_KEY_SPACE);
    EXPECT_FALSE(state_.at_bench.open);
}

TEST_F(AtTheBench, KeysGoOnAndBackAndLeaveAndItsPlaceIsKept) {
    press(GLFW_KEY_W);
    press(GLFW_KEY_SPACE, 5);
    press(GLFW_KEY_BACKSPACE);
    EXPECT_EQ(state_.at_bench.at, 4U);
    const double collective = state_.bench.controls.sticks.collective;
    press(GLFW_KEY_PAGE_UP);  // the stick's key elsewhere
    EXPECT_EQ(state_.bench.controls.sticks.collective, collective);
    EXPECT_EQ(state_.at_bench.at, 3U);
    press(GLFW_KEY_ESCAPE);
    EXPECT_FALSE(state_.at_bench.open);
    state_.screen.settings = document::load_settings(file_);  // as the next start has it
    press(GLFW_KEY_W);
    EXPECT_EQ(state_.at_bench.at, 3U);
    press(GLFW_KEY_HOME);
    EXPECT_EQ(state_.at_bench.at, 0U);
}

TEST_F(AtTheBench, WhatIsTypedChangesWhatComesAndOutlastsTheProgram) {
    press(GLFW_KEY_W);
    for (int i = 0; i < 100 && step().tool != studies::BenchTool::pitch_gauge; ++i) press(GLFW_KEY_SPACE);
    const std::size_t before = state_.at_bench.steps.size();
    for (int blade = 0; blade < 2; ++blade) {
        ASSERT_EQ(step().stage, "Zero pitch");
        type("1,5");
        press(GLFW_KEY_SPACE);
    }
    EXPECT_TRUE(step().turn) << step().say;
    EXPECT_GT(state_.at_bench.steps.size(), before);
    press(GLFW_KEY_ESCAPE);
    start_the_program_again();
    press(GLFW_KEY_W);
    press(GLFW_KEY_SPACE, 4);  // over the cautions, and where it was left
    EXPECT_TRUE(step().turn) << step().say;
}

TEST_F(AtTheBench, BackspaceTakesALetterFirst) {
    press(GLFW_KEY_W);
    go_to_a_reading();
    const std::size_t at = state_.at_bench.at;
    type("12");
    press(GLFW_KEY_BACKSPACE);
    EXPECT_EQ(state_.at_bench.typed, "1");
    EXPECT_EQ(state_.at_bench.at, at);
    press(GLFW_KEY_BACKSPACE, 2);
    EXPECT_EQ(state_.at_bench.at, at - 1);
}

TEST_F(AtTheBench, ASlipIsSaidAndNotTaken) {
    press(GLFW_KEY_W);
    go_to_a_reading();
    const std::size_t at = state_.at_bench.at;
    type("999");
    press(GLFW_KEY_SPACE);
    EXPECT_EQ(state_.at_bench.at, at);
    EXPECT_THAT(state_.at_bench.slip, HasSubstr("Read again"));
    EXPECT_TRUE(state_.at_bench.read.empty());
    EXPECT_EQ(state_.at_bench.typed, "999");  // stays, to be mended
    press(GLFW_KEY_BACKSPACE);
    EXPECT_EQ(state_.at_bench.typed, "99");
    EXPECT_EQ(state_.at_bench.at, at);
    press(GLFW_KEY_SPACE);
    EXPECT_FALSE(state_.at_bench.slip.empty());
    type("27");  // another in its place
    EXPECT_EQ(state_.at_bench.typed, "27");
    press(GLFW_KEY_BACKSPACE, 2);
    press(GLFW_KEY_SPACE);  // without a number
    EXPECT_EQ(state_.at_bench.at, at + 1);
}

TEST_F(AtTheBench, EitherUnitMayBeTypedAndNoOther) {
    press(GLFW_KEY_W);
    go_to_a_reading();
    ASSERT_EQ(step().reading->unit, "mm");
    const std::string key = step().reading->key;
    for (const auto& [typed, mm] : {std::pair{"1.07in", 1.07 * 25.4}, {"27.2mm", 27.2}, {"1.07\"", 1.07 * 25.4}}) {
        type(typed);
        press(GLFW_KEY_SPACE);
        EXPECT_NEAR(state_.at_bench.read[key], mm, 1e-9) << typed;
        press(GLFW_KEY_BACKSPACE);
        ASSERT_EQ(step().reading->key, key);
    }
    type("1.07");  // Space goes on elsewhere; 1.07 mm cannot be this height, so the unit may still come
    press(GLFW_KEY_SPACE);
    type("in");
    press(GLFW_KEY_SPACE);
    EXPECT_NEAR(state_.at_bench.read[key], 1.07 * 25.4, 1e-9);
    press(GLFW_KEY_BACKSPACE);
    type("27xy");
    press(GLFW_KEY_SPACE);
    EXPECT_THAT(state_.at_bench.slip, HasSubstr("\"27xy\" is no length"));
    EXPECT_EQ(step().reading->key, key);
}

TEST_F(AtTheBench, StartingAgainAsksBeforeReadingsGo) {
    press(GLFW_KEY_W);
    go_to_a_reading();
    type("27");
    press(GLFW_KEY_SPACE);
    const std::size_t at = state_.at_bench.at;
    ASSERT_EQ(state_.at_bench.read.size(), 1U);
    press(GLFW_KEY_HOME);
    EXPECT_TRUE(state_.at_bench.anew_asked);
    press(GLFW_KEY_SPACE);  // not after all
    EXPECT_EQ(state_.at_bench.at, at);
    EXPECT_EQ(state_.at_bench.read.size(), 1U);
    press(GLFW_KEY_HOME, 2);
    EXPECT_EQ(state_.at_bench.at, 0U);
    EXPECT_TRUE(state_.at_bench.read.empty());
}

TEST_F(AtTheBench, CtrlQLeavesTheProgram) {
    press(GLFW_KEY_W);
    press(GLFW_KEY_Q);
    EXPECT_FALSE(state_.close_wanted);
    press_key(state_, GLFW_KEY_Q, GLFW_MOD_CONTROL, false);
    EXPECT_TRUE(state_.close_wanted);
}

TEST_F(AtTheBench, TheListForAfterACrashTicksWhatWasDone) {
    go_to_bench(state_, BenchList::after_crash);
    frame();
    const auto items = sheet::after_crash(state_.bench.head());
    press(GLFW_KEY_SPACE, static_cast<int>(sheet::cautions().size() + items.size()));
    EXPECT_FALSE(state_.at_bench.open);
    for (const std::string& item : items) EXPECT_EQ(kept().looked_at.at(item), document::today()) << item;
}

TEST_F(AtTheBench, LettersAreReadFromTwoMetresAndStayInTheWindow) {
    // 1/16 of the height to the em: B612's line is 1.19 em.
    for (const ImVec2 size : {ImVec2{1024, 768}, ImVec2{1280, 800}, ImVec2{1920, 1080}}) {
        EXPECT_GE(bench_letters_px(size.y) / 1.19, size.y / 16 * 0.99);
        ImGui::GetIO().DisplaySize = size;
        for (const BenchList list : {BenchList::set_up, BenchList::after_crash}) {
            go_to_bench(state_, list);
            bench_anew(state_.screen, state_.at_bench);
            frame();
            for (std::size_t i = 0; i < state_.at_bench.steps.size(); ++i) {
                state_.at_bench.at = i;
                frame();
                const ImVec4 words = state_.screen.report.widgets().at("bench words");
                const ImVec4 on = state_.screen.report.widgets().at("bench on");
                EXPECT_LT(words.w, on.y - (step().reading ? 1.3F * bench_letters_px(size.y) : 0)) << step().say;
            }
        }
    }
}

TEST_F(AtTheBench, KeysThatComeFasterThanFramesStayWithinTheList) {
    press(GLFW_KEY_W);
    state_.at_bench.at = state_.at_bench.steps.size() - 1;
    state_.at_bench.stale = true;  // as after a number was taken
    for (int i = 0; i < 3; ++i) press_key(state_, GLFW_KEY_SPACE, 0, false);
    frame();
    EXPECT_LT(state_.at_bench.at, state_.at_bench.steps.size());
    EXPECT_TRUE(state_.at_bench.open);
}

TEST_F(AtTheBench, TabGoesFromButtonToButtonAndEnterPresses) {
    press(GLFW_KEY_W);
    for (const std::size_t at : {1U, 2U}) {
        for (int i = 0; i < 4 && state_.screen.report.framed() != "bench on"; ++i) {
            ASSERT_TRUE(press_frame_key(state_, GLFW_KEY_TAB, 0, false));
            frame();
        }
        ASSERT_EQ(state_.screen.report.framed(), "bench on");
        ASSERT_TRUE(press_frame_key(state_, GLFW_KEY_ENTER, 0, false));
        frame(), frame();
        EXPECT_EQ(state_.at_bench.at, at);
    }
    EXPECT_FALSE(press_frame_key(state_, GLFW_KEY_ESCAPE, 0, false));  // the list's
    press(GLFW_KEY_ESCAPE);
    EXPECT_FALSE(state_.at_bench.open);
}

TEST_F(AtTheBench, NoMillimetreIsLeftWhereLengthsAreReadInInches) {
    for (const head::Rod rod : {head::Rod::plain, head::Rod::turnbuckle}) {
        scene::Scene wrong = state_.bench.document().scene();
        for (auto* links : {&wrong.head.lower_links, &wrong.head.upper_links})
            for (head::Link& link : *links) link.rod = rod;
        wrong.head.lower_links[1].error_mm = 0.9;
        wrong.head.upper_links[1].error_mm = 0.9;
        ASSERT_TRUE(state_.bench.edit(std::move(wrong), "wrong links"));
        press(GLFW_KEY_W);
        int turns = 0;
        for (const studies::BenchStep& step : state_.at_bench.steps) {
            turns += step.turn.has_value();
            const std::string said = lengths_read(step.say + " " + step.more, true);
            EXPECT_THAT(said, ::testing::Not(HasSubstr(" mm"))) << step.say;
            EXPECT_THAT(said, ::testing::Not(HasSubstr(" in in "))) << step.say;
        }
        EXPECT_GE(turns, 2);
        press(GLFW_KEY_ESCAPE);
    }
}

TEST_F(AtTheBench, AReadingIsLeftOutAgain) {
    press(GLFW_KEY_W);
    go_to_a_reading();
    const std::string key = step().reading->key;
    for (int time = 0; time < 2; ++time) {
        type("27");
        press(GLFW_KEY_SPACE);
        press(GLFW_KEY_BACKSPACE);
        ASSERT_TRUE(state_.at_bench.read.contains(key));
        press(GLFW_KEY_DELETE);
        EXPECT_FALSE(state_.at_bench.read.contains(key));
        EXPECT_EQ(step().reading->key, key);
        EXPECT_FALSE(document::load_settings(file_).heads.at("two_blade_600.toml").set_up.read.contains(key));
    }
    type("27");
    press(GLFW_KEY_DELETE);
    EXPECT_EQ(state_.at_bench.typed, "");
}

TEST_F(AtTheBench, SaysThatReadingsArePutAwayOnlyWhereTheyAre) {
    const auto done = [&](BenchList list) {
        go_to_bench(state_, list);
        frame();
        for (int i = 0; i < 200 && state_.at_bench.open; ++i) press(GLFW_KEY_SPACE);
        EXPECT_FALSE(state_.at_bench.open);
        return state_.screen.notice;
    };
    for (int time = 0; time < 2; ++time) {
        EXPECT_THAT(done(BenchList::after_crash), ::testing::Not(HasSubstr("read")));
        EXPECT_THAT(done(BenchList::set_up), ::testing::Not(HasSubstr("read")));
        press(GLFW_KEY_W);
        go_to_a_reading();
        type("27");
        press(GLFW_KEY_SPACE);
        EXPECT_THAT(done(BenchList::set_up), HasSubstr("What was read at the bench is put away"));
    }
}

TEST_F(AtTheBench, ATailHasItsOrderOfWork) {
    show_document(state_, document::Document::open(SWASHWRIGHT_SCENES "/tail_600.toml").value());
    press(GLFW_KEY_W);
    EXPECT_GT(state_.at_bench.steps.size(), sheet::order_of_work(state_.bench.head()).size());
}

}  // namespace
}  // namespace swashwright::panels
