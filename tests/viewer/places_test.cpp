// The open head measured place by place, without a screen: readings, their file, the edit that they make.
#include "viewer/panels/measure/places_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <thread>

#include "tests/viewer/opened.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/readings_files.h"
#include "viewer/panels/window/unsaved.h"

namespace swashwright::panels {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

class Places : public ::testing::Test {
protected:
    Places() {
        std::string name = (fs::temp_directory_path() / "swashwright-places-XXXXXX").string();
        folder_ = ::mkdtemp(name.data());
        for (const char* scene : {"two_blade_600.toml", "three_blade_700.toml"})
            fs::copy_file(fs::path(SWASHWRIGHT_SCENES) / scene, folder_ / scene);
        fs::create_directory(folder_ / "readings");
        fs::copy_file(SWASHWRIGHT_SCENES "/readings/two_blade_600.places.toml", demo());
    }
    ~Places() override { fs::remove_all(folder_); }

    std::string at(const char* name) const { return (folder_ / name).string(); }
    std::string demo() const { return at("readings/two_blade_600.places.toml"); }
    State started() const { return state_of(at("two_blade_600.toml")); }
    static void type(State& state, const std::string& place, double mm) {
        state.places.put({place, mm, studies::Jaws::centres, std::nullopt});
        places_changed(state.places);
    }
    static const PlacesFound& found(State& state) { return places_found(state.places, state.bench.document()); }

    fs::path folder_;
};

TEST_F(Places, ReadingsMoveTheHeadByOneStepOfUndo) {
    State state = started();
    EXPECT_TRUE(found(state).fit);
    type(state, "upper_link[2]", 61.43);
    for (int time = 0; time < 2; ++time) {
        ASSERT_TRUE(found(state).fit);
        EXPECT_NEAR(found(state).fit->head.upper_links[1].length_mm, 61.43, 1e-4);
        EXPECT_EQ(state.bench.head().upper_links[1].length_mm, 61);
        set_as_measured(state);
        EXPECT_NEAR(state.bench.head().upper_links[1].length_mm, 61.43, 1e-4);
        EXPECT_EQ(state.bench.document().undo_label(), "numbers as measured");
        EXPECT_EQ(state.places.made.words, "upper link 2, length from 61.00 to 61.43 mm");
        EXPECT_EQ(state.places.made.revision, state.bench.document().revision());  // so it is shown, with its Undo
        undo(state);
        EXPECT_NE(state.places.made.revision, state.bench.document().revision());
        EXPECT_EQ(state.bench.head().upper_links[1].length_mm, 61);
    }
    type(state, "upper_link[2]", 61.2);  // another reading in its place
    EXPECT_EQ(state.places.file.readings.list.size(), 1U);
    EXPECT_NEAR(found(state).fit->head.upper_links[1].length_mm, 61.2, 1e-4);
    state.places.take_out("upper_link[2]");
    places_changed(state.places);
    EXPECT_NEAR(found(state).fit->head.upper_links[1].length_mm, 61, 1e-9);
}

// A frame does not wait for the fit: until it is there, the last one stands, and is told from it.
TEST_F(Places, AFitIsWorkedOutWhileFramesGoOn) {
    State state = state_of(SWASHWRIGHT_SCENES "/stabiliser_bar_600.toml");
    const auto& document = state.bench.document();
    const std::size_t all = found(state).places.size();
    state.sheet = Sheet::measure;
    state.places.shown = true;
    for (const double mm : {89.5, 89.3, 89.4}) {
        const double before = found(state).fit->head.upper_links[1].length_mm;
        type(state, "upper_link[2]", mm - 1);  // overtaken before its fit is there
        places_so_far(state.places, document);
        type(state, "upper_link[2]", mm);
        EXPECT_EQ(places_so_far(state.places, document).places.size(), all);
        EXPECT_TRUE(places_behind(state.places, document));
        EXPECT_EQ(state.places.found.fit->head.upper_links[1].length_mm, before);
        EXPECT_TRUE(working(state));
        for (int tries = 0; tries < 2000 && places_behind(state.places, document); ++tries) {
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
            places_so_far(state.places, document);
        }
        EXPECT_FALSE(places_behind(state.places, document));
        EXPECT_FALSE(working(state));
        EXPECT_NEAR(state.places.found.fit->head.upper_links[1].length_mm, mm, 1e-4);
    }
}

TEST_F(Places, AFitThatNobodyLooksAtKeepsNothingAtWork) {
    State state = state_of(SWASHWRIGHT_SCENES "/stabiliser_bar_600.toml");
    type(state, "upper_link[2]", 89.5);
    places_so_far(state.places, state.bench.document());
    ASSERT_EQ(state.sheet, Sheet::parts);  // on another page before it is done
    for (int tries = 0; tries < 2000 && working(state); ++tries)
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    EXPECT_FALSE(working(state));
    state.sheet = Sheet::measure;
    state.places.shown = true;
    EXPECT_TRUE(working(state));  // until the page has taken it over
    places_so_far(state.places, state.bench.document());
    EXPECT_FALSE(working(state));
    EXPECT_FALSE(places_behind(state.places, state.bench.document()));
}

TEST_F(Places, WhatTheSceneRulesRefuseIsSaid) {
    State state = started();
    type(state, "upper_link[2]", 61.43);
    ASSERT_TRUE(found(state).fit);
    state.places.found.fit->head.upper_links[1].length_mm = -5;
    set_as_measured(state);
    EXPECT_EQ(state.bench.head().upper_links[1].length_mm, 61);
    EXPECT_FALSE(state.places.said.empty());
}

TEST_F(Places, ReadingsOpenOnTheHeadThatIsOpen) {
    State state = started();
    for (int time = 0; time < 2; ++time) {
        state.places.shown = false;
        open_file(state, demo());
        EXPECT_EQ(state.dialogs.open, Dialog::none) << state.dialogs.error;
        EXPECT_EQ(state.sheet, Sheet::measure);
        EXPECT_TRUE(state.places.shown);
        EXPECT_GT(state.places.file.readings.list.size(), 40U);
        EXPECT_FALSE(at_stake(state).any());
        ASSERT_TRUE(found(state).fit);
        EXPECT_EQ(found(state).elsewhere, 0U);
        EXPECT_EQ(found(state).fit->conflicts.size(), 1U);
    }
    type(state, "upper_link[2]", 61.2);
    open_file(state, demo());
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    go_on_unsaved(state);
    EXPECT_NE(state.places.reading("upper_link[2]")->mm, 61.2);
    open_file(state, at("three_blade_700.toml"));
    EXPECT_TRUE(state.places.file.readings.list.empty());
    EXPECT_THAT(state.places.said, HasSubstr("The readings of two_blade_600.toml were put away"));
    type(state, "upper_link[3]", 80);
    EXPECT_TRUE(found(state).fit);
    open_file(state, at("two_blade_600.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
}

// A new head has no file: a second one is named alike and is another all the same.
TEST_F(Places, ANewHeadAfterANewHeadHasNoReadings) {
    State state = started();
    scene::Scene scene = state.bench.document().scene();
    for (int time = 0; time < 2; ++time) {
        show_new(state, scene);
        EXPECT_EQ(found(state).fit->readings.size(), 0U);
        EXPECT_EQ(state.places.path, "");
        EXPECT_EQ(state.gauge.readings.size(), 0U);
        type(state, "upper_link[2]", 61.43);
        state.places.path = at("mine.places.toml");
        state.gauge.readings.pitch.emplace_back(studies::PitchReading{}, true);
    }
}

// An answer's row may name a part that the head does not have any more.
TEST_F(Places, APartOfAnotherHeadIsNotChosenForLong) {
    State state = started();
    state.selection.selected = head::PartName{head::Role::upper_link, 7};
    follow_parts(state.bench, state.selection, state.ledger);
    EXPECT_FALSE(state.selection.selected);
}

TEST_F(Places, ReadingsOfAnotherMakeUpAreKeptAndToldOf) {
    State state = started();
    scene::CalliperFile file;
    file.scene_file = "three_blade_700.toml";
    file.readings.list.push_back({"upper_link[3]", 80, studies::Jaws::centres, std::nullopt});
    std::ofstream(at("three.places.toml")) << scene::write(file, {});
    open_file(state, at("three.places.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::none);
    EXPECT_THAT(state.places.said, HasSubstr("They say that they are of three_blade_700.toml."));
    EXPECT_EQ(found(state).elsewhere, 1U);
    EXPECT_TRUE(found(state).fit);
}

TEST_F(Places, AreSavedWithTheirSceneAndReadAgain) {
    State state = started();
    type(state, "upper_link[2]", 61.43);
    found(state);
    EXPECT_TRUE(places_unsaved(state.places));
    save_places(state);
    ASSERT_EQ(state.dialogs.open, Dialog::save_places);
    EXPECT_EQ(state.dialogs.path, at("two_blade_600.places.toml"));
    save_places_as(state, at("readings/mine.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::none);
    EXPECT_FALSE(places_unsaved(state.places));
    const auto loaded = scene::load_calliper(at("readings/mine.toml"));
    ASSERT_TRUE(loaded) << loaded.error().text();
    EXPECT_EQ(loaded->file.scene_file, "../two_blade_600.toml");
    EXPECT_EQ(loaded->file.readings.list.at(0).mm, 61.43);
    save_places_as(state, at("three_blade_700.toml"));
    EXPECT_THAT(state.dialogs.error, HasSubstr("There is a file of this name."));
    state.dialogs = {};
    start_places_anew(state);
    EXPECT_TRUE(state.places.file.readings.list.empty());
    type(state, "upper_link[2]", 61.5);
    start_places_anew(state);
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    EXPECT_EQ(state.places.file.readings.list.size(), 1U);
}

TEST_F(Places, TailsFourServosAndLeversAreMeasuredToo) {
    const std::vector<std::pair<std::string, std::string>> heads{{"tail_600", "lever[1].ball[1] to pivot"},
                                                                 {"four_servos_700", "upper_link[1]"},
                                                                 {"bellcranks_500", "lever[2].ball[2] to pivot"},
                                                                 {"stabiliser_bar_600", "upper_link[1]"}};
    for (const auto& [name, place] : heads) {
        State state = state_of(SWASHWRIGHT_SCENES "/" + name + ".toml");
        const auto* listed = studies::find_place(found(state).places, place);
        ASSERT_NE(listed, nullptr) << name;
        const studies::CalliperPlace at = *listed;  // the list is made anew with every change
        const double before = *studies::present_value(at, *head::Head::build(state.bench.head()));
        type(state, place, before + 0.2);
        ASSERT_TRUE(found(state).fit) << name << found(state).fit.error();
        set_as_measured(state);
        EXPECT_EQ(state.bench.document().undo_label(), "numbers as measured") << state.places.said;
        EXPECT_NEAR(*studies::present_value(at, *head::Head::build(state.bench.head())), before + 0.2, 1e-3) << name;
        undo(state);
        EXPECT_NEAR(*studies::present_value(at, *head::Head::build(state.bench.head())), before, 1e-12) << name;
    }
}

TEST_F(Places, OutliveACrash) {
    const std::string kept = at("unsaved");
    const pid_t child = ::fork();
    if (child == 0) {
        State state = make_state(opened(at("two_blade_600.toml")), "", "", kept);
        type(state, "upper_link[2]", 61.43);
        found(state);
        advance(state, 0, 1);
        ::kill(::getpid(), SIGKILL);
    }
    ::waitpid(child, nullptr, 0);
    State state = make_state(opened(at("three_blade_700.toml")), "", "", kept);
    ASSERT_EQ(state.left_work.size(), 1U);
    take_up_left_work(state);
    EXPECT_EQ(state.bench.document().path(), at("two_blade_600.toml"));
    ASSERT_NE(state.places.reading("upper_link[2]"), nullptr);
    EXPECT_EQ(state.places.reading("upper_link[2]")->mm, 61.43);
    EXPECT_TRUE(places_unsaved(state.places));
    EXPECT_TRUE(state.places.shown);
}

}  // namespace
}  // namespace swashwright::panels
