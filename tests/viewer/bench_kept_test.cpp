// What the bench keeps of a head: of which head, from which day, and how a list that was left is taken up.
#include <gmock/gmock.h>

#include "tests/viewer/at_the_bench.h"
#include "viewer/document/today.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/unsaved.h"
#include "viewer/sheet/words.h"

namespace swashwright::panels {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

class BenchKept : public AtTheBench {
protected:
    BenchKept() { std::filesystem::remove_all(file_ + ".d"); }
    /// Files of this test alone.
    std::string at(const std::string& name) {
        const std::string folder = file_ + ".d";
        std::filesystem::create_directories(folder);
        return folder + "/" + name;
    }
    document::Document saved_as(const std::string& path) {
        document::Document out = opened(SWASHWRIGHT_SCENES "/two_blade_600.toml");
        EXPECT_TRUE(out.save(path));
        return out;
    }
    document::Document unsaved() {
        return document::Document::never_saved(opened(SWASHWRIGHT_SCENES "/two_blade_600.toml").scene(),
                                               at("new_head.toml"));
    }
    void go_to(const std::string& stage) {
        for (int i = 0; i < 100 && step().stage != stage; ++i) press(GLFW_KEY_SPACE);
        ASSERT_EQ(step().stage, stage);
    }
    void read_a_height() {
        press(GLFW_KEY_W);
        go_to_a_reading();
        type("27.5");
        press(GLFW_KEY_SPACE);
        press(GLFW_KEY_ESCAPE);
        ASSERT_EQ(state_.at_bench.read.size(), 1U);
    }
    std::size_t read_at_the_bench() {
        press(GLFW_KEY_W);
        const std::size_t out = state_.at_bench.read.size();
        press(GLFW_KEY_ESCAPE);
        return out;
    }
    const std::size_t cautions = sheet::cautions("").size();
};

TEST_F(BenchKept, TheFirstOpeningInARunShowsTheCautionsAndFromWhichDayItGoesOn) {
    press(GLFW_KEY_W);
    go_to("Ends");
    const std::string left_at = step().say;
    press(GLFW_KEY_ESCAPE);
    for (int run = 0; run < 2; ++run) {
        start_the_program_again();
        state_.screen.settings.heads.at("two_blade_600.toml").set_up.day = "2026-11-09";
        press(GLFW_KEY_W);
        EXPECT_EQ(state_.at_bench.at, 0U);
        EXPECT_THAT(step().say, HasSubstr("motor disconnected"));
        press(GLFW_KEY_ESCAPE);  // that is no going on: it is told again
        press(GLFW_KEY_W);
        EXPECT_EQ(state_.at_bench.at, 0U);
        press(GLFW_KEY_SPACE, static_cast<int>(cautions));
        EXPECT_THAT(step().say, HasSubstr("Left on 2026-11-09 at step "));
        EXPECT_THAT(step().more, HasSubstr(left_at));
        press(GLFW_KEY_SPACE);
        EXPECT_EQ(step().say, left_at);
        EXPECT_EQ(kept().set_up.day, document::today());
        press(GLFW_KEY_ESCAPE);
        press(GLFW_KEY_W);  // in the same run it opens there
        EXPECT_EQ(step().say, left_at);
        press(GLFW_KEY_ESCAPE);
    }
    start_the_program_again();
    press(GLFW_KEY_W);
    press(GLFW_KEY_SPACE, static_cast<int>(cautions));
    press(GLFW_KEY_HOME);
    EXPECT_EQ(state_.at_bench.at, 0U);
    press(GLFW_KEY_SPACE, static_cast<int>(cautions));
    EXPECT_EQ(step().stage, "Servos");
}

TEST_F(BenchKept, TheStepIsFoundAgainThoughOthersCameBeforeIt) {
    press(GLFW_KEY_W);
    go_to("Ends");
    const std::string left_at = step().say;
    const std::size_t number = state_.at_bench.at;
    press(GLFW_KEY_ESCAPE);
    for (const double error : {0.9, 0.0}) {
        scene::Scene next = state_.bench.document().scene();
        for (head::Link& link : next.head.upper_links) link.error_mm = error;  // each is turned, in place of a sentence
        ASSERT_TRUE(state_.bench.edit(std::move(next), "another link"));
        press(GLFW_KEY_W);
        EXPECT_EQ(step().say, left_at);
        EXPECT_EQ(state_.at_bench.at, number + (error > 0 ? 1 : 0));
        press(GLFW_KEY_ESCAPE);
    }
}

TEST_F(BenchKept, ReadingsAreOfTheFileAndNotOfTheName) {
    const document::Document a = saved_as(at("a.toml")), b = saved_as(at("b.toml"));
    ASSERT_EQ(a.head().name, b.head().name);
    open_scene(a);
    read_a_height();
    for (int time = 0; time < 2; ++time) {
        open_scene(b);
        EXPECT_EQ(read_at_the_bench(), 0U);
        open_scene(a);
        EXPECT_EQ(read_at_the_bench(), 1U);
    }
    scene::Scene named = state_.bench.document().scene();
    named.head.name = "Another name";
    ASSERT_TRUE(state_.bench.edit(std::move(named), "name"));
    EXPECT_EQ(read_at_the_bench(), 1U);
}

TEST_F(BenchKept, AHeadInNoFileHasItsOwnUntilAnotherOneIsOpened) {
    for (int time = 0; time < 2; ++time) {
        open_scene(unsaved());
        EXPECT_EQ(read_at_the_bench(), 0U);
        read_a_height();
        EXPECT_EQ(read_at_the_bench(), 1U);
    }
    save_scene(state_, at("mine.toml"));  // they go with it
    ASSERT_TRUE(state_.bench.document().in_a_file());
    EXPECT_EQ(read_at_the_bench(), 1U);
    open_scene(unsaved());
    EXPECT_EQ(read_at_the_bench(), 0U);
    open_scene(opened(at("mine.toml")));
    EXPECT_EQ(read_at_the_bench(), 1U);
}

TEST_F(BenchKept, ADemoSavedAsOnesOwnTakesItsReadingsAlong) {
    read_a_height();
    for (const char* name : {"own.toml", "copy.toml"}) {
        save_scene(state_, at(name));
        EXPECT_EQ(read_at_the_bench(), 1U);
        EXPECT_FALSE(state_.at_bench.left) << "as if from an earlier run";
    }
    open_scene(opened(at("own.toml")));
    EXPECT_EQ(read_at_the_bench(), 1U);
    open_scene(opened(SWASHWRIGHT_SCENES "/two_blade_600.toml"));
    EXPECT_EQ(read_at_the_bench(), 0U);
}

TEST_F(BenchKept, AHeadInNoFileGetsItsReadingsBackWithTheWorkThatWasLeft) {
    for (const std::string& file : {at("0.json"), at("1.json")}) {
        state_.screen.settings.heads[file].set_up = {"Level ring", "Read it.", 7, "2026-11-09", {{"height 1", 27.5}}};
        document::LeftWork work;
        work.file = file;
        work.path = at("new_head.toml");
        work.scene = scene::write(opened(SWASHWRIGHT_SCENES "/two_blade_600.toml").scene());
        state_.left_work = {work};
        take_up_left_work(state_);
        go_on_unsaved(state_);
        frame();
        ASSERT_FALSE(state_.bench.document().in_a_file());
        EXPECT_EQ(read_at_the_bench(), 1U);
        EXPECT_FALSE(state_.screen.settings.heads.contains(file));
    }
}

TEST_F(BenchKept, OfHeadsInNoFileThatNothingIsLeftOfNothingStays) {
    const std::string unsaved_folder = at("unsaved");
    document::Settings settings;
    settings.heads[unsaved_folder + "/7.json"].looked_at["Spindle"] = "2026-11-09";
    settings.heads["/a.toml"].looked_at["Spindle"] = "2026-11-09";
    ASSERT_TRUE(document::save_settings(file_, settings));
    for (int start = 0; start < 2; ++start) {
        State next = make_state(opened(SWASHWRIGHT_SCENES "/two_blade_600.toml"), file_, "", unsaved_folder);
        EXPECT_EQ(next.screen.settings.heads.size(), 1U);
        EXPECT_TRUE(next.screen.settings.heads.contains("/a.toml"));
        remember_settings(next.screen);
        EXPECT_FALSE(document::load_settings(file_).heads.contains(unsaved_folder + "/7.json"));
    }
}

class SecondCrash : public BenchKept {
protected:
    std::size_t looked_at() const { return kept().looked_at.size(); }
    void open_list() {
        go_to_bench(state_, BenchList::after_crash);
        frame();
    }
    const std::size_t all = sheet::after_crash(state_.bench.head()).size();
};

TEST_F(SecondCrash, StartsWithoutTheTicksOfTheFirst) {
    for (int crash = 0; crash < 2; ++crash) {
        open_list();
        press(GLFW_KEY_SPACE, static_cast<int>(cautions) + 4);
        EXPECT_EQ(looked_at(), 4U);
        press(GLFW_KEY_SPACE, static_cast<int>(all) - 4);
        EXPECT_FALSE(state_.at_bench.open);
        EXPECT_EQ(looked_at(), all);
    }
    open_list();
    press(GLFW_KEY_ESCAPE);  // only looked in
    EXPECT_EQ(looked_at(), all);
}

TEST_F(SecondCrash, HomeAsksBeforeTicksGo) {
    open_list();
    press(GLFW_KEY_SPACE, static_cast<int>(cautions) + 4);
    for (int time = 0; time < 2; ++time) {
        press(GLFW_KEY_HOME);
        EXPECT_EQ(looked_at(), 4U);
        press(GLFW_KEY_SPACE);  // not after all
    }
    press(GLFW_KEY_HOME, 2);
    EXPECT_EQ(looked_at(), 0U);
    EXPECT_EQ(state_.at_bench.at, 0U);
}

TEST_F(BenchKept, WhatCannotBeRememberedIsSaidOnTheBoard) {
    state_.screen.settings_path = at("");  // a folder: no file can take its place
    for (int time = 0; time < 2; ++time) {
        press(GLFW_KEY_W);
        press(GLFW_KEY_SPACE);
        frames(state_, 1, 60);  // long after
        frame();
        EXPECT_TRUE(state_.screen.report.widgets().contains("bench said"));
        EXPECT_THAT(state_.screen.not_remembered, HasSubstr("Not remembered"));
        EXPECT_THAT(state_.screen.not_remembered, Not(HasSubstr("another folder")));
        press(GLFW_KEY_ESCAPE);
    }
    state_.screen.settings_path = file_;
    press(GLFW_KEY_W);
    press(GLFW_KEY_SPACE);
    EXPECT_EQ(state_.screen.not_remembered, "");
}

}  // namespace
}  // namespace swashwright::panels
