// Opening, saving and taking up left work, without a screen: what is unsaved is lost only where the user says so.
#include "viewer/panels/window/files.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>

#include "tests/viewer/opened.h"
#include "viewer/panels/window/readings_files.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

class Files : public ::testing::Test {
protected:
    Files() {
        std::string name = (fs::temp_directory_path() / "swashwright-files-XXXXXX").string();
        folder_ = ::mkdtemp(name.data());
        copy("two_blade_600.toml", "mine.toml");
        copy("three_blade_700.toml", "other.toml");
        copy("readings/two_blade_600.toml", "gauge.toml");
        copy("readings/two_blade_600.measured.toml", "calliper.toml");
    }
    ~Files() override { fs::remove_all(folder_); }

    void copy(const char* demo, const char* name) const {
        fs::copy_file(fs::path(SWASHWRIGHT_SCENES) / demo, folder_ / name);
    }
    std::string at(const char* name) const { return (folder_ / name).string(); }
    std::string kept() const { return at("unsaved"); }
    State started() const {
        State state = state_of(at("mine.toml"));
        state.screen.settings_path = at("window.json");
        return state;
    }
    static void set_error(State& state, double error_mm) {
        scene::Scene next = state.bench.document().scene();
        next.head.upper_links[1].error_mm = error_mm;
        ASSERT_TRUE(try_edit(state.screen, state.bench, std::move(next), "error"));
        state.bench.end_run();
    }
    static void type_gauge(State& state, double reading_deg) {
        state.gauge.readings.pitch.emplace_back().reading_deg = reading_deg;
        ++state.gauge.revision;
    }
    static void type_calliper(State& state, double mm) {
        state.measure.file.measured.taken[{studies::Taking::ball, 0}].mm = mm;
        ++state.measure.revision;
    }
    static double error(const State& state) { return state.bench.head().upper_links[1].error_mm; }
    double error_on_disk(const char* name) const { return scene::load(at(name))->head.upper_links[1].error_mm; }

    fs::path folder_;
};

TEST_F(Files, OpenWithUnsavedWorkAsksAndCancelKeepsIt) {
    State state = started();
    set_error(state, 0.3);
    ask(state, Dialog::open);
    open_file(state, at("other.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    EXPECT_EQ(error(state), 0.3);
    ask(state, Dialog::none);  // cancelled
    save(state);
    EXPECT_EQ(state.bench.document().path(), at("mine.toml"));  // nothing waits any more
    EXPECT_EQ(error_on_disk("mine.toml"), 0.3);
}

TEST_F(Files, SaveFirstSavesThenOpens) {
    State state = started();
    set_error(state, 0.3);
    open_file(state, at("other.toml"));
    go_on(state);  // save first
    EXPECT_EQ(error_on_disk("mine.toml"), 0.3);
    EXPECT_EQ(state.bench.document().path(), at("other.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::none);
    // The same file: what was saved a moment ago is what is opened.
    set_error(state, 0.2);
    open_file(state, at("other.toml"));
    go_on(state);
    EXPECT_EQ(error(state), 0.2);
    EXPECT_FALSE(state.bench.document().unsaved());
}

TEST_F(Files, WhatAnotherProgramChangedIsReplacedOnlyByASecondPress) {
    State state = started();
    const auto elsewhere = [&](double error_mm) {
        scene::Scene other = scene::load(at("mine.toml")).value();
        other.head.upper_links[0].error_mm = error_mm;
        std::ofstream(at("mine.toml")) << scene::write(other);
    };
    for (const double mm : {0.1, 0.2}) {
        set_error(state, mm);
        elsewhere(mm);
        save(state);
        EXPECT_EQ(state.dialogs.open, Dialog::save);
        EXPECT_EQ(state.dialogs.path, at("mine.toml"));
        EXPECT_THAT(state.dialogs.error, HasSubstr("Another program has changed this file"));
        EXPECT_EQ(scene::load(at("mine.toml"))->head.upper_links[0].error_mm, mm);  // still there
        EXPECT_TRUE(state.bench.document().unsaved());
        save_scene(state, at("mine.toml"));  // "Save", pressed there
        EXPECT_EQ(state.dialogs.open, Dialog::none) << state.dialogs.error;
        EXPECT_EQ(error_on_disk("mine.toml"), mm);
        EXPECT_EQ(scene::load(at("mine.toml"))->head.upper_links[0].error_mm, 0);
        set_error(state, mm + 0.5);  // its own change is no other program's
        save(state);
        EXPECT_EQ(state.dialogs.open, Dialog::none) << state.dialogs.error;
        EXPECT_EQ(error_on_disk("mine.toml"), mm + 0.5);
    }
    // Under another name nothing is lost.
    set_error(state, 0.3);
    elsewhere(0.4);
    save_scene(state, at("new.toml"));
    EXPECT_EQ(error_on_disk("new.toml"), 0.3);
    EXPECT_EQ(scene::load(at("mine.toml"))->head.upper_links[0].error_mm, 0.4);
}

TEST_F(Files, AQuestionBeforeSavingDoesNotLoseWhatWaitsForIt) {
    State state = started();
    set_error(state, 0.3);
    std::ofstream(at("mine.toml"), std::ios::app) << "\n[power]\nengine_w = 1000.0\n";
    bool left = false;
    with_work_safe(state, all_work, [&left](State&) { left = true; });
    ASSERT_EQ(state.dialogs.open, Dialog::unsaved);
    go_on(state);
    ASSERT_EQ(state.dialogs.open, Dialog::save);
    EXPECT_FALSE(left);
    save_scene(state, at("mine.toml"));
    EXPECT_TRUE(left);
    EXPECT_EQ(error_on_disk("mine.toml"), 0.3);
}

TEST_F(Files, AFileThatIsGoneOrHasOtherCommentsIsSavedWithoutAQuestion) {
    State state = started();
    for (const bool gone : {false, true, false, true}) {
        set_error(state, error(state) + 0.1);
        if (gone)
            fs::remove(at("mine.toml"));
        else
            std::ofstream(at("mine.toml"), std::ios::app) << "# a remark\n";
        save(state);
        EXPECT_EQ(state.dialogs.open, Dialog::none) << state.dialogs.error;
        EXPECT_EQ(error_on_disk("mine.toml"), error(state));
    }
}

TEST_F(Files, DoNotSaveOpensAndLeavesTheFileAlone) {
    State state = started();
    set_error(state, 0.3);
    open_file(state, at("other.toml"));
    go_on_unsaved(state);
    EXPECT_EQ(state.bench.document().path(), at("other.toml"));
    EXPECT_EQ(error_on_disk("mine.toml"), 0);
}

TEST_F(Files, SaveFirstAsksForEveryNameThatIsMissing) {
    State state = started();
    set_error(state, 0.3);
    type_gauge(state, 1.5);
    type_calliper(state, 4.8);
    bool left = false;
    with_work_safe(state, all_work, [&left](State&) { left = true; });
    ASSERT_EQ(state.dialogs.open, Dialog::unsaved);
    go_on(state);
    EXPECT_EQ(error_on_disk("mine.toml"), 0.3);
    ASSERT_EQ(state.dialogs.open, Dialog::save_gauge);
    EXPECT_EQ(state.dialogs.path, at("mine.readings.toml"));
    save_gauge_as(state, state.dialogs.path);
    ASSERT_EQ(state.dialogs.open, Dialog::save_calliper);
    EXPECT_FALSE(left);
    save_measured_as(state, at("gauge.toml"));  // another file stands there
    EXPECT_THAT(state.dialogs.error, HasSubstr("There is a file of this name."));
    EXPECT_FALSE(left);
    save_measured_as(state, at("mine.measured.toml"));
    EXPECT_TRUE(left);
    EXPECT_EQ(scene::load_readings(at("mine.readings.toml"))->readings.pitch.at(0).reading_deg, 1.5);
    EXPECT_EQ(scene::load_measured(at("mine.measured.toml"))->measured.taken.size(), 1U);
}

TEST_F(Files, SaveWritesTheOpenFileAndAsksWhereTheHeadCameWithTheProgram) {
    State state = started();
    set_error(state, 0.3);
    save(state);
    EXPECT_EQ(state.dialogs.open, Dialog::none);
    EXPECT_EQ(error_on_disk("mine.toml"), 0.3);
    State demo = state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    save(demo);
    EXPECT_EQ(demo.dialogs.open, Dialog::save);
    EXPECT_EQ(fs::path(demo.dialogs.path).parent_path(), fs::current_path());
}

TEST_F(Files, SaveAsAsksOnceMoreBeforeItReplacesAnotherFile) {
    State state = started();
    std::ofstream(at("taken.toml")) << "mine";
    ask(state, Dialog::save);
    save_scene(state, at("taken.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::save);
    EXPECT_THAT(state.dialogs.error, HasSubstr("There is a file of this name."));
    EXPECT_EQ(fs::file_size(at("taken.toml")), 4U);
    save_scene(state, at("taken.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::none);
    EXPECT_TRUE(document::Document::open(at("taken.toml")));
}

// A made head has a name proposed; a file that came there meanwhile is another's.
TEST_F(Files, SavingAMadeHeadAsksBeforeItReplacesAFile) {
    State state = started();
    state.bench.show(document::Document::never_saved(state.bench.document().scene(), at("other.toml")));
    save(state);
    EXPECT_EQ(state.dialogs.open, Dialog::save);
    save_scene(state, at("other.toml"));
    EXPECT_THAT(state.dialogs.error, HasSubstr("There is a file of this name."));
    EXPECT_EQ(scene::load(at("other.toml"))->head.rotor.blades, 3);
}

TEST_F(Files, OpenTellsReadingsFromScenes) {
    State state = started();
    set_error(state, 0.3);  // a scene's changes are in no danger
    for (int time = 0; time < 2; ++time) {
        ask(state, Dialog::open);
        open_file(state, at("gauge.toml"));
        EXPECT_EQ(state.dialogs.open, Dialog::none) << state.dialogs.error;
        EXPECT_EQ(state.gauge.readings.size(), scene::load_readings(at("gauge.toml"))->readings.size());
        EXPECT_EQ(state.sheet, Sheet::questions);
        open_file(state, at("calliper.toml"));
        EXPECT_EQ(state.measure.file.measured.taken.size(), 48U);
        EXPECT_EQ(state.sheet, Sheet::measure);
        EXPECT_FALSE(at_stake(state).gauge || at_stake(state).calliper);
        EXPECT_EQ(error(state), 0.3);
    }
    open_file(state, SWASHWRIGHT_SCENES "/lessons/01_parts.toml");
    EXPECT_EQ(state.dialogs.open, Dialog::open);
    EXPECT_THAT(state.dialogs.error, HasSubstr("this is a lesson, expected a scene"));
}

TEST_F(Files, ReadProposesTheFileBesideTheHeadOrItsFolder) {
    State state = started();
    ask_for_readings(state, "", ".measured.toml");
    EXPECT_EQ(state.dialogs.open, Dialog::read);
    EXPECT_EQ(state.dialogs.path, at(""));
    copy("readings/two_blade_600.measured.toml", "mine.measured.toml");
    ask_for_readings(state, "", ".measured.toml");
    EXPECT_EQ(state.dialogs.path, at("mine.measured.toml"));
    ask_for_readings(state, at("calliper.toml"), ".measured.toml");
    EXPECT_EQ(state.dialogs.path, at("calliper.toml"));
}

TEST_F(Files, ReadingOverTypedReadingsAsksFirst) {
    State state = started();
    type_gauge(state, 1.5);
    open_file(state, at("gauge.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    EXPECT_EQ(state.gauge.readings.size(), 1U);
    go_on_unsaved(state);
    EXPECT_GT(state.gauge.readings.size(), 1U);
    type_calliper(state, 4.8);
    open_file(state, at("calliper.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    EXPECT_EQ(state.measure.file.measured.taken.size(), 1U);
}

TEST_F(Files, ANoteOfReadingsOutlivesASave) {
    State state = started();
    open_file(state, at("gauge.toml"));
    type_gauge(state, 1.5);
    save_gauge(state);
    EXPECT_FALSE(gauge_unsaved(state.gauge));
    EXPECT_THAT(scene::load_readings(at("gauge.toml"))->note, HasSubstr("Invented"));
}

// Twice: each time through the file, and back into the table.
TEST_F(Files, ReadingsKeptAsBeforeStayThroughTheirFileAndComeBack) {
    State state = started();
    open_file(state, at("gauge.toml"));
    state.gauge.readings.gauge.zeroed_on = studies::ZeroedOn::level;
    const std::size_t rows = state.gauge.readings.pitch.size();
    for (int time = 0; time < 2; ++time) {
        keep_as_before(state.gauge);
        EXPECT_EQ(state.gauge.readings.size(), 0U);
        EXPECT_EQ(state.gauge.readings.pitch.size(), rows) << "the places stay, to be read again";
        EXPECT_TRUE(gauge_unsaved(state.gauge));
        save_gauge(state);
        EXPECT_FALSE(gauge_unsaved(state.gauge));
        open_file(state, at("gauge.toml"));
        ASSERT_TRUE(state.gauge.readings.before);
        EXPECT_EQ(state.gauge.readings.before->size(), rows);
        EXPECT_EQ(state.gauge.readings.before->gauge.zeroed_on, studies::ZeroedOn::level);
        EXPECT_EQ(state.gauge.readings.gauge.zeroed_on, studies::ZeroedOn::level);
        bring_before_back(state.gauge);
        EXPECT_EQ(state.gauge.readings.size(), rows);
        EXPECT_FALSE(state.gauge.readings.before);
    }
    keep_as_before(state.gauge);
    type_gauge(state, 1.5);
    bring_before_back(state.gauge);  // what is typed is not lost
    EXPECT_EQ(state.gauge.readings.size(), rows);
    ASSERT_TRUE(state.gauge.readings.before);
    EXPECT_EQ(state.gauge.readings.before->pitch.at(0).reading_deg, 1.5);
}

TEST_F(Files, ReadingsOfBeforeAloneAreWorkToo) {
    State state = started();
    type_gauge(state, 1.5);
    keep_as_before(state.gauge);
    open_file(state, at("other.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    ASSERT_TRUE(state.gauge.readings.before);
    go_on_unsaved(state);
    EXPECT_FALSE(state.gauge.readings.any());
    EXPECT_THAT(state.gauge.said, HasSubstr("were put away"));
}

TEST_F(Files, ReadingsOfOneHeadAreNotThoseOfTheNext) {
    State state = started();
    for (int time = 0; time < 2; ++time) {
        open_file(state, at("gauge.toml"));
        open_file(state, at("calliper.toml"));
        const std::string before = state.bench.document().path();
        open_file(state, at(time == 0 ? "other.toml" : "mine.toml"));
        EXPECT_NE(state.bench.document().path(), before);
        EXPECT_EQ(state.gauge.readings.size(), 0U);
        EXPECT_TRUE(state.measure.file.measured.taken.empty());
        const std::string whose = fs::path(before).filename().string();
        EXPECT_THAT(state.gauge.said, HasSubstr("The readings of " + whose + " were put away"));
        EXPECT_THAT(state.gauge.said, HasSubstr(at("gauge.toml")));
        EXPECT_THAT(state.measure.said, HasSubstr(at("calliper.toml")));
        EXPECT_THAT(state.screen.notice, HasSubstr(whose));
    }
    type_gauge(state, 1.5);
    open_file(state, at("other.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    EXPECT_EQ(state.gauge.readings.size(), 1U);
}

TEST_F(Files, OpeningTheSameHeadAgainKeepsItsReadings) {
    State state = started();
    type_gauge(state, 1.5);
    set_error(state, 0.3);
    open_file(state, at("mine.toml"));
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    go_on_unsaved(state);
    EXPECT_EQ(error(state), 0);
    EXPECT_EQ(state.gauge.readings.size(), 1U);
}

TEST_F(Files, StartAnewEmptiesTheSheetAndAsksFirst) {
    State state = started();
    type_calliper(state, 4.8);
    state.measure.page = 3;
    start_measuring_anew(state);
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    EXPECT_EQ(state.measure.file.measured.taken.size(), 1U);
    go_on_unsaved(state);
    EXPECT_TRUE(state.measure.file.measured.taken.empty());
    EXPECT_EQ(state.measure.page, 0);
    EXPECT_FALSE(readings_unsaved(state.measure));
    open_file(state, at("calliper.toml"));
    start_measuring_anew(state);  // they are in their file
    EXPECT_TRUE(state.measure.file.measured.taken.empty());
    type_calliper(state, 4.9);
    EXPECT_TRUE(readings_unsaved(state.measure));
    save_measured(state);
    EXPECT_EQ(state.dialogs.open, Dialog::save_calliper);  // not into the file of the head before
}

// Names that a text field lets through must not keep the readings from coming back.
TEST_F(Files, ReadingsWithAClearedNameAreKeptReadably) {
    State state = started();
    type_calliper(state, 4.8);
    state.measure.file.measured.layout.name.clear();
    state.measure.file.measured.layout.servos[1].name = std::string(300, 'x');
    const auto back = scene::parse_measured(readings_to_keep(state.measure).text(), "");
    ASSERT_TRUE(back) << back.error().text();
    EXPECT_EQ(back->measured.taken.size(), 1U);
}

// Killed, taken up, changed, killed and so on: each time all that was done before is there.
TEST_F(Files, WorkThatWasTakenUpIsKeptAgain) {
    constexpr int rounds = 5;
    for (int round = 0; round <= rounds; ++round) {
        const pid_t child = ::fork();
        if (child == 0) {
            State state = make_state(opened(at("mine.toml")), "", "", kept());
            state.dialogs.open = Dialog::none;
            advance(state, 0, 0.1);
            bool right = round == 0 || state.dialogs.open == Dialog::left_work;
            take_up_left_work(state);
            right = right && error(state) == 0.1 * round &&
                    state.gauge.readings.size() == static_cast<std::size_t>(round) &&
                    (round == 0 || state.measure.file.measured.taken.begin()->second.mm == 4.0 + round);
            set_error(state, 0.1 * (round + 1));
            advance(state, 0, 0.2);
            type_gauge(state, round);
            type_calliper(state, 5.0 + round);
            advance(state, 0, 1.5);  // a second has gone by
            if (!right) std::_Exit(1);
            ::kill(::getpid(), SIGKILL);
        }
        int status = 0;
        ::waitpid(child, &status, 0);
        ASSERT_TRUE(WIFSIGNALED(status)) << "in round " << round;
        EXPECT_EQ(document::left_work(kept()).size(), 1U);
    }
}

// Two windows on one scene: what the second left does not take the place of what the first left.
TEST_F(Files, TakingUpASecondPieceOfWorkAsksForTheFirst) {
    for (const double error_mm : {0.1, 0.2}) {
        const pid_t child = ::fork();
        if (child == 0) {
            State state = make_state(opened(at("mine.toml")), "", "", kept());
            set_error(state, error_mm);
            advance(state, 0, 1);
            ::kill(::getpid(), SIGKILL);
        }
        ::waitpid(child, nullptr, 0);
    }
    State state = make_state(opened(at("mine.toml")), "", "", kept());
    ASSERT_EQ(state.left_work.size(), 2U);
    take_up_left_work(state);
    const double first = error(state);
    take_up_left_work(state);
    EXPECT_EQ(state.dialogs.open, Dialog::unsaved);
    EXPECT_EQ(error(state), first);
    go_on(state);
    EXPECT_EQ(error_on_disk("mine.toml"), first);
    EXPECT_NEAR(error(state), 0.3 - first, 1e-12);
    EXPECT_TRUE(document::left_work(kept()).empty());
    EXPECT_TRUE(state.recovery->holds());
}

// Readings that were left beside another head bring it along.
TEST_F(Files, LeftReadingsComeWithTheirHead) {
    const pid_t child = ::fork();
    if (child == 0) {
        State state = make_state(opened(at("mine.toml")), "", "", kept());
        type_gauge(state, 1.5);
        advance(state, 0, 1);
        ::kill(::getpid(), SIGKILL);
    }
    ::waitpid(child, nullptr, 0);
    State state = make_state(opened(at("other.toml")), "", "", kept());
    take_up_left_work(state);
    EXPECT_EQ(state.bench.document().path(), at("mine.toml"));
    EXPECT_EQ(state.gauge.readings.size(), 1U);
    EXPECT_TRUE(gauge_unsaved(state.gauge));
}

}  // namespace
}  // namespace swashwright::panels
