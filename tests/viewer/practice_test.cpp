// Practice without a window: the head with the fault is nowhere but in what the gauge reads.
#include "viewer/panels/lessons/practice.h"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <set>
#include <thread>

#include "kinematics/studies/diagnosis/fault_words.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/document/data_folder.h"
#include "viewer/document/today.h"
#include "viewer/panels/lessons/lesson_sheet.h"
#include "viewer/panels/lessons/practice_kept.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/unsaved.h"

namespace swashwright::panels {
namespace {

namespace fs = std::filesystem;

class PracticePage : public HeldHead {
protected:
    PracticePage() : HeldHead(state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml")) {
        state_.sheet = Sheet::lessons;
        frame();
        frame();
    }
    void begin(std::uint64_t number) {
        start_practice(state_.screen, state_.bench, state_.view, state_.selection, state_.lessons,
                       users_document(state_.bench, state_.lessons), {"Your head", number});
        ASSERT_TRUE(state_.lessons.practice.on()) << state_.screen.notice;
        frame();
    }
    Practice& practice() { return state_.lessons.practice; }
    std::string verdict() {
        do {
            frame();
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        } while (practice().verdict.running());
        frame();
        return practice().verdict.outcome() && *practice().verdict.outcome()
                   ? (*practice().verdict.outcome())->answer.text
                   : "none";
    }
};

TEST_F(PracticePage, DrawsAndKeepsNothingOfTheHeadWithTheFault) {
    const std::string own = scene::write(state_.bench.document().scene());
    for (const std::uint64_t number : {1, 3, 8}) {
        begin(number);
        EXPECT_TRUE(state_.lessons.on_bench);
        // What is drawn, said and kept: the description on the bench is the user's, byte by byte.
        EXPECT_EQ(scene::write(state_.bench.document().scene()), own);
        const auto described = head::Head::build(state_.bench.head());
        ASSERT_TRUE(described);
        go_to(state_.bench, {.collective = 1}, 30);
        frame();
        read_blade(practice(), state_.bench.controls.sticks, state_.bench.controls.azimuth_deg, 0);
        frame();
        ASSERT_TRUE(state_.bench.live().shown);
        const auto pose = described->pose({.collective = 1}, 30);
        EXPECT_NEAR(state_.bench.live().shown->pose.pitch_deg[0], pose->pitch_deg[0], 1e-9);
        EXPECT_EQ(practice().sound.pitch[0].reading_deg, pose->pitch_deg[0]);
        EXPECT_EQ(practice().readings.size(), 1U);
        EXPECT_FALSE(at_stake(state_).any());  // nothing of it is work that a file would get
        EXPECT_TRUE(state_.gauge.readings.pitch.empty());
    }
    close_lesson(state_.bench, state_.view, state_.selection, state_.lessons);
    EXPECT_EQ(scene::write(state_.bench.document().scene()), own);
}

TEST_F(PracticePage, NamesNoPartOfTheHeadAsDescribedInTheSentence) {
    scene::Scene own = state_.bench.document().scene();
    own.head.upper_links[1].error_mm = 0.3;
    ASSERT_TRUE(state_.bench.edit(std::move(own), "error"));
    frame();
    EXPECT_NE(state_.bench.live().sentence.text.find("upper link 2"), std::string::npos);
    begin(8);
    EXPECT_NE(state_.bench.live().sentence.text.find("Blade 2 takes"), std::string::npos);
    EXPECT_EQ(state_.bench.live().sentence.text.find("upper link"), std::string::npos);
    close_lesson(state_.bench, state_.view, state_.selection, state_.lessons);
    frame();
    EXPECT_NE(state_.bench.live().sentence.text.find("upper link 2"), std::string::npos);
}

TEST_F(PracticePage, ReadsAgainTheSameAfterTheAnswer) {
    begin(8);
    read_blade(practice(), {}, 0, 0);
    read_ball(practice(), {.collective = 1}, 1);
    const double pitch = practice().readings.pitch[0].reading_deg,
                 height = practice().readings.ring_height[0].reading_mm;
    practice().chosen = "mixing";
    EXPECT_EQ(path_to_light(practice()), "");  // nothing to be seen, and nothing of what is hidden
    practice().chosen = "guide";
    EXPECT_EQ(path_to_light(practice()), "swashplate.guide");
    frame();
    EXPECT_EQ(state_.selection.spoken_of, (std::vector<draw::Part>{{head::Role::guide, 0}}));
    practice().chosen = "driver";
    frame();
    EXPECT_EQ(state_.selection.spoken_of, (std::vector<draw::Part>{{head::Role::driver, 0}}));
    name_part(practice(), studies::keys_of(practice().hidden->what()).front());
    const studies::HiddenFault hidden = *practice().hidden;
    EXPECT_NE(verdict().find("Right: " + studies::fault_words(hidden.what(), hidden.size)), std::string::npos);
    EXPECT_EQ(path_to_light(practice()), "upper_link[1]");
    read_blade(practice(), {}, 90, 0);  // over
    EXPECT_EQ(practice().readings.size(), 2U);
    begin(8);
    EXPECT_EQ(practice().readings.size(), 0U);
    read_ball(practice(), {.collective = 1}, 1);
    read_blade(practice(), {}, 0, 0);
    EXPECT_EQ(practice().readings.pitch[0].reading_deg, pitch);
    EXPECT_EQ(practice().readings.ring_height[0].reading_mm, height);
    name_part(practice(), "");
    EXPECT_NE(verdict().find("Given up."), std::string::npos);
}

TEST_F(PracticePage, ReadingsGoOnlyByASecondPress) {
    for (int again = 0; again < 2; ++again) {
        begin(8);
        click("practice leave");  // nothing was read
        EXPECT_FALSE(practice().on());
        begin(8);
        read_blade(practice(), {}, 0, 0);
        frame();
        click("practice leave");
        EXPECT_TRUE(practice().on());
        click("practice leave not");
        EXPECT_TRUE(practice().on());
        EXPECT_EQ(practice().readings.size(), 1U);
        click("practice leave");
        click("practice leave now");
        EXPECT_FALSE(practice().on());
        EXPECT_FALSE(state_.lessons.on_bench);
    }
}

TEST_F(PracticePage, SaysWhatCannotBeReadAndWhereNothingCanBeHidden) {
    begin(8);
    read_blade(practice(), {}, 0, 9);
    EXPECT_EQ(practice().readings.size(), 0U);
    EXPECT_FALSE(practice().said.empty());
    head::Description open = state_.bench.head();
    open.upper_links[0].length_mm = 5;
    const Practice none = hide(open, {"", 1});
    EXPECT_FALSE(none.on());
    EXPECT_FALSE(none.said.empty());
}

/// Programs that come to a bad end in the middle of a round, each a process of its own.
class LeftRound : public ::testing::Test {
protected:
    LeftRound() {
        std::string name = (fs::temp_directory_path() / "swashwright-test-XXXXXX").string();
        folder_ = ::mkdtemp(name.data());
        for (const char* head : {"mine.toml", "other.toml"})
            fs::copy_file(SWASHWRIGHT_SCENES "/two_blade_600.toml", at(head));
    }
    ~LeftRound() override { fs::remove_all(folder_); }

    std::string at(const std::string& name) const { return (folder_ / name).string(); }
    std::string kept() const { return at("unsaved"); }
    State started(const std::string& head) const {
        State state = make_state(opened(at(head)), "", "", kept());
        state.dialogs.open = Dialog::none;
        return state;
    }
    static void begin(State& state) {
        start_practice(state.screen, state.bench, state.view, state.selection, state.lessons,
                       users_document(state.bench, state.lessons), {"Your head", 8});
    }
    /// The readings of a sitting, one step after another, alike in whatever program it is taken.
    static void read(Practice& practice, int step) {
        if (step == 0) {
            read_blade(practice, {.collective = 0.3}, 1.0 / 3, 0);
            read_ball(practice, {.collective = 1}, 1);
            choose_part(practice, "upper_link[2]");
        } else {
            read_blade(practice, {.collective = -1, .aileron = 0.25}, 90, 1);
            choose_part(practice, "guide");
        }
    }
    static bool alike(const Practice& a, const Practice& b) {
        const auto same = [](const studies::Readings& x, const studies::Readings& y) {
            return std::ranges::equal(x.pitch, y.pitch, {}, &studies::PitchReading::reading_deg,
                                      &studies::PitchReading::reading_deg) &&
                   std::ranges::equal(x.ring_height, y.ring_height, {}, &studies::RingHeightReading::reading_mm,
                                      &studies::RingHeightReading::reading_mm);
        };
        return a.on() && b.on() && same(a.readings, b.readings) && same(a.sound, b.sound) && a.chosen == b.chosen &&
               a.hidden->fault == b.hidden->fault && a.hidden->size == b.hidden->size &&
               a.round.title == b.round.title && a.round.number == b.round.number;
    }
    /// `act` in a program with this head, which is killed then; false if what it found was wrong.
    bool in_killed_program(const std::string& head, const std::function<bool(State&)>& act) const {
        const pid_t child = ::fork();
        if (child == 0) {
            State state = started(head);
            if (!act(state)) std::_Exit(1);
            ::kill(::getpid(), SIGKILL);
        }
        int status = 0;
        ::waitpid(child, &status, 0);
        return WIFSIGNALED(status);
    }

    fs::path folder_;
};

TEST_F(LeftRound, GoesOnInTheNextProgramAndTheOneAfterIt) {
    const std::string own = scene::write(opened(at("mine.toml")).scene());
    Practice whole = hide(opened(at("mine.toml")).head(), {"Your head", 8});
    ASSERT_TRUE(in_killed_program("mine.toml", [&](State& state) {
        begin(state);
        read(state.lessons.practice, 0);
        advance(state, 0, 1);
        return state.recovery->holds();
    }));
    read(whole, 0);
    ASSERT_TRUE(in_killed_program("other.toml", [&](State& state) {
        advance(state, 0, 0.1);
        bool right = state.dialogs.open == Dialog::left_work;
        take_up_left_work(state);
        right = right && state.dialogs.open == Dialog::none && state.sheet == Sheet::lessons &&
                alike(state.lessons.practice, whole);
        // It took no other's place: what is open stays open.
        right = right && users_document(state.bench, state.lessons).path() == at("other.toml");
        read(state.lessons.practice, 1);
        advance(state, 0, 2);  // a second has gone by
        return right;
    }));
    read(whole, 1);
    State state = started("mine.toml");
    ASSERT_EQ(state.left_work.size(), 1U);
    take_up_left_work(state);
    Practice& practice = state.lessons.practice;
    EXPECT_TRUE(alike(practice, whole));
    EXPECT_EQ(practice.readings.size(), 3U);
    EXPECT_TRUE(state.recovery->holds());
    EXPECT_EQ(scene::write(state.bench.document().scene()), own);
    name_part(practice, studies::keys_of(practice.hidden->what()).front());
    while (!practice.verdict.poll() || practice.verdict.running())
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    ASSERT_TRUE(practice.verdict.outcome() && *practice.verdict.outcome());
    EXPECT_NE((*practice.verdict.outcome())->answer.text.find("Right: "), std::string::npos);
    advance(state, 0, 2);
    EXPECT_FALSE(state.recovery->holds());  // it is over
    EXPECT_TRUE(document::left_work(kept()).empty());
}

// Left as one leaves a program, not by a crash: work that was given up does not come back, the round does.
TEST_F(LeftRound, WithReadingsOutlivesAnOrdinaryExit) {
    Practice whole = hide(opened(at("mine.toml")).head(), {"Your head", 8});
    read(whole, 0);
    for (int again = 0; again < 2; ++again) {
        {
            State state = started("mine.toml");
            begin(state);
            advance(state, 0, 1);
            leave(state);  // nothing was read
        }
        EXPECT_TRUE(document::left_work(kept()).empty());
        {
            State state = started("mine.toml");
            begin(state);
            read(state.lessons.practice, 0);
            advance(state, 0, 1);
            put_lesson_away(state);
            scene::Scene next = state.bench.document().scene();
            next.head.upper_links[1].error_mm = 0.3;
            ASSERT_TRUE(try_edit(state.screen, state.bench, std::move(next), "error"));
            advance(state, 0, 3);
            with_work_safe(state, all_work, leave);
            ASSERT_EQ(state.dialogs.open, Dialog::unsaved);
            go_on_unsaved(state);
            EXPECT_TRUE(state.leave);
        }
        State state = started("other.toml");
        ASSERT_EQ(state.left_work.size(), 1U);
        EXPECT_FALSE(state.left_work[0].has_scene());
        take_up_left_work(state);
        EXPECT_TRUE(alike(state.lessons.practice, whole));
        EXPECT_EQ(users_document(state.bench, state.lessons).path(), at("other.toml"));
        name_part(state.lessons.practice, "");
        advance(state, 0, 2);
        leave(state);
    }
    EXPECT_TRUE(document::left_work(kept()).empty());
}

// Changes of the user's own head, and a round on a copy of another, left together.
TEST_F(LeftRound, StandsBesideTheWorkOnTheUsersOwnHead) {
    ASSERT_TRUE(in_killed_program("mine.toml", [&](State& state) {
        scene::Scene next = state.bench.document().scene();
        next.head.upper_links[1].error_mm = 0.3;
        if (!try_edit(state.screen, state.bench, std::move(next), "error")) return false;
        begin(state);
        advance(state, 0, 1);
        return true;
    }));
    State state = started("other.toml");
    take_up_left_work(state);
    ASSERT_EQ(state.dialogs.error, "");
    const document::Document& own = users_document(state.bench, state.lessons);
    EXPECT_EQ(own.path(), at("mine.toml"));
    EXPECT_EQ(own.head().upper_links[1].error_mm, 0.3);
    EXPECT_TRUE(own.unsaved());
    EXPECT_TRUE(state.lessons.practice.on());
    EXPECT_EQ(state.lessons.practice.readings.size(), 0U);
}

TEST_F(LeftRound, ThatCannotBeReadIsTold) {
    for (const char* text : {"", "{}",
                             "{\"title\": \"x\", \"number\": 8, \"scene\": \"\", \"places\": [], "
                             "\"chosen\": \"\"}"}) {
        const auto round = round_of(text, at("mine.toml"));
        ASSERT_FALSE(round) << text;
        EXPECT_FALSE(round.error().empty());
    }
}

TEST(PracticeHeads, AreThereAndHideAFault) {
    for (const PracticeHead& head : practice_heads()) {
        const auto opened = document::Document::open((document::scenes_folder() / head.file).string());
        ASSERT_TRUE(opened) << head.file;
        for (const std::uint64_t number : {1, 20'261'129})
            EXPECT_TRUE(hide(opened->head(), {"", number}).on()) << head.file << " " << number;
    }
    EXPECT_TRUE(studies::practice_of(document::today(), practice_heads().size()));
    std::set<std::uint64_t> numbers;
    for (int i = 0; i < 100; ++i) {
        const std::uint64_t number = any_number();
        EXPECT_TRUE(number >= 1 && number <= static_cast<std::uint64_t>(studies::most_faults)) << number;
        numbers.insert(number);
    }
    EXPECT_GT(numbers.size(), 90U);  // of nearly a million, a hundred draws hardly ever meet
}

}  // namespace
}  // namespace swashwright::panels
