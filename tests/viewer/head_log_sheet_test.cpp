// The log of the open head on the page that compares: states are put in, compared and told apart by head.
#include "viewer/panels/questions/head_log_sheet.h"

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/window/files.h"

namespace swashwright::panels {
namespace {

using ::testing::HasSubstr;

/// A head in a folder of its own, with no log yet.
std::string copied_head() {
    const std::filesystem::path folder = ::testing::TempDir() + "/swashwright_head_log_" +
                                         ::testing::UnitTest::GetInstance()->current_test_info()->name();
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
    std::filesystem::copy_file(SWASHWRIGHT_SCENES "/two_blade_600.toml", folder / "head.toml");
    return (folder / "head.toml").string();
}

class HeadLogPage : public HeldHead {
protected:
    HeadLogPage() : HeldHead(state_of(copied_head())) {
        state_.sheet = Sheet::compare;
        state_.compare.with = CompareSheet::With::log;
        frame();
        frame();
    }
    const HeadLogSheet& log() const { return state_.compare.log; }
};

TEST_F(HeadLogPage, TakesTheHeadInAndComparesItWithWhatComesLater) {
    for (const std::size_t count : {1U, 2U}) {
        scene::Scene next = state_.bench.document().scene();
        next.head.upper_links[0].length_mm += 1;
        ASSERT_TRUE(try_edit(state_.screen, state_.bench, std::move(next), "Upper links, link 1, length_mm"));
        frame();
        click("log put in");
        EXPECT_EQ(log().states.states.size(), count) << log().said;
        ASSERT_NE(compared_with(state_.bench, state_.compare), nullptr);
        EXPECT_EQ(compared_with(state_.bench, state_.compare)->upper_links[0].length_mm,
                  state_.bench.head().upper_links[0].length_mm);
    }
}

TEST_F(HeadLogPage, ALogThatWasMendedIsReadAgain) {
    click("log put in");
    ASSERT_EQ(log().states.states.size(), 1U);
    const std::string path = scene::log_path(state_.bench.document().path());
    std::ifstream file(path);
    const std::string sound{std::istreambuf_iterator<char>(file), {}};
    for (const bool by_button : {true, false, true, false}) {
        std::ofstream(path) << "state = what\n";
        state_.compare.log.note = "another";
        click("log put in");  // sees that it cannot be read
        ASSERT_FALSE(log().mistakes.empty());
        state_.compare.log.note = "half typed";
        click("log read anew");  // not mended yet
        ASSERT_FALSE(log().mistakes.empty());
        EXPECT_TRUE(log().states.states.empty());
        std::ofstream(path) << sound;
        if (by_button) {
            click("log read anew");
        } else {
            state_.sheet = Sheet::parts;
            frame();
            frame();
            state_.sheet = Sheet::compare;
            frame();
        }
        EXPECT_TRUE(log().mistakes.empty()) << log().mistakes;
        EXPECT_EQ(log().states.states.size(), 1U);
        EXPECT_EQ(log().note, "half typed");
        frame();
        EXPECT_NE(compared_with(state_.bench, state_.compare), nullptr);
        EXPECT_TRUE(state_.screen.report.widgets().contains("log put in"));
    }
}

TEST_F(HeadLogPage, TheSameStateIsNotPutInTwiceUnlessThereIsSomethingToNote) {
    click("log put in");
    ASSERT_EQ(log().states.states.size(), 1U);
    click("log put in");
    EXPECT_EQ(log().states.states.size(), 1U);
    EXPECT_THAT(log().said, HasSubstr("Nothing has changed since state 1"));
    state_.compare.log.note = "after fifty flights";
    click("log put in");
    EXPECT_EQ(log().states.states.size(), 2U);
    // Of one day: told apart by number.
    EXPECT_NE(scene::state_words(log().states, 0), scene::state_words(log().states, 1));
    EXPECT_THAT(log().chosen_words(), HasSubstr("(state 2)"));
}

TEST_F(HeadLogPage, AStateGoesOnlyAfterAQuestion) {
    for (int i = 0; i < 3; ++i) {
        state_.compare.log.note = std::string("note ") + std::to_string(i);
        click("log put in");
    }
    ASSERT_EQ(log().states.states.size(), 3U);
    click("log state 2");
    click("log remove");
    click("log remove not");
    EXPECT_EQ(log().states.states.size(), 3U);
    click("log remove");
    click("log remove now");
    ASSERT_EQ(log().states.states.size(), 2U);
    const auto read = scene::load_log(log().path);
    ASSERT_TRUE(read);
    ASSERT_EQ(read->states.size(), 2U);
    EXPECT_EQ(read->states[0].note, "note 0");
    EXPECT_EQ(read->states[1].note, "note 2");
    for (int i = 0; i < 2; ++i) click("log remove"), click("log remove now");
    EXPECT_TRUE(log().states.states.empty());
    EXPECT_FALSE(log().chosen);
}

TEST_F(HeadLogPage, WhatIsComparedIsNotAnotherStateOnceAnotherProgramTookOneOut) {
    for (const bool taken_out : {false, true, false, true}) {
        state_.compare.log = {};
        std::filesystem::remove(scene::log_path(state_.bench.document().path()));
        frame();
        for (const char* note : {"one", "two", "three"}) {
            state_.compare.log.note = note;
            click("log put in");
        }
        click("log state 1");
        click("log hold");
        ASSERT_EQ(log().held, 0U);
        if (taken_out) {
            scene::HeadLog less = log().states;
            less.states.erase(less.states.begin());
            std::ofstream(log().path) << scene::write(less);
        }
        state_.compare.log.note = "four";
        click("log put in");
        ASSERT_EQ(log().states.states.size(), taken_out ? 3U : 4U) << log().said;
        EXPECT_EQ(log().held.has_value(), !taken_out);
    }
}

TEST_F(HeadLogPage, WhatWasTakenUpIsSaidUntilItIsTakenBack) {
    click("log put in");
    scene::Scene next = state_.bench.document().scene();
    next.head.upper_links[0].length_mm += 1;
    ASSERT_TRUE(try_edit(state_.screen, state_.bench, std::move(next), "Upper links, link 1, length_mm"));
    state_.bench.end_run();
    frame();
    click("log take up");
    EXPECT_THAT(log().said, HasSubstr("The head is as it was"));
    frame();
    EXPECT_FALSE(log().said.empty());
    state_.bench.undo();
    frame();
    EXPECT_TRUE(log().said.empty()) << log().said;
}

TEST_F(HeadLogPage, AStateWithOtherPartsHidesNoneOfItsOwn) {
    click("log put in");
    for (int time = 0; time < 2; ++time) {
        scene::Scene next = state_.bench.document().scene();
        next.head.swashplate.driver_pins.push_back({20, 270, 0});
        next.head.swashplate.driver_pins_as_list = true;
        ASSERT_TRUE(try_edit(state_.screen, state_.bench, std::move(next), "driver pins"));
        state_.bench.end_run();
        state_.view.hidden = {draw::Part{head::Role::driver, 0}};
        frame();
        click("log take up");
        EXPECT_TRUE(state_.view.hidden.empty());
    }
}

TEST_F(HeadLogPage, TheLogOfOneHeadIsNotComparedWithAnother) {
    click("log put in");
    ASSERT_NE(compared_with(state_.bench, state_.compare), nullptr);
    show_new(state_, state_.bench.document().scene());  // in no file, so it has no log
    state_.sheet = Sheet::compare;
    frame();
    EXPECT_EQ(compared_with(state_.bench, state_.compare), nullptr);
    EXPECT_TRUE(log().states.states.empty());
}

}  // namespace
}  // namespace swashwright::panels
