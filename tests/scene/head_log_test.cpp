// The log of a head: what is written is read back, to the last bit; what is broken is told by place and left alone.
#include "kinematics/bench_files/head_log.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "kinematics/studies/pitch/compare.h"
#include "tests/support/demo_head.h"

namespace swashwright::scene {
namespace {

using ::testing::HasSubstr;

HeadLog log_of_all_demos() {
    HeadLog log;
    int day = 1;
    for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_SCENES)) {
        if (entry.path().extension() != ".toml") continue;
        auto scene = load(entry.path().string());
        EXPECT_TRUE(scene);
        scene->note = "quotes \"\"\" and \\ and\nlines";
        log.states.push_back({fmt::format("2026-03-{:02}", day++), "a note with \"quotes\"", std::move(*scene)});
    }
    return log;
}

TEST(HeadLog, GivesEveryDemoBackToTheLastBit) {
    const HeadLog log = log_of_all_demos();
    ASSERT_GE(log.states.size(), 8U);
    const std::string text = write(log);
    const auto again = parse_log(text, "x.log.toml");
    ASSERT_TRUE(again) << again.error().text();
    ASSERT_EQ(again->states.size(), log.states.size());
    for (std::size_t i = 0; i < log.states.size(); ++i) {
        EXPECT_EQ(again->states[i].date, log.states[i].date);
        EXPECT_EQ(again->states[i].note, log.states[i].note);
        EXPECT_EQ(write(again->states[i].scene), write(log.states[i].scene));
    }
    EXPECT_EQ(write(*again), text);
}

TEST(HeadLog, StandsBesideTheScene) {
    EXPECT_EQ(log_path("heads/blue.toml"), "heads/blue.log.toml");
}

TEST(HeadLog, OneThatIsNotThereIsEmpty) {
    const auto log = load_log(::testing::TempDir() + "/no_such.log.toml");
    ASSERT_TRUE(log);
    EXPECT_TRUE(log->states.empty());
}

TEST(HeadLog, TellsMistakesByPlace) {
    const auto mistakes = [](const std::string& text) {
        const auto log = parse_log(text, "x.log.toml");
        EXPECT_FALSE(log) << text;
        return log ? std::string() : log.error().text();
    };
    EXPECT_THAT(mistakes("format = 1\n[[state]]\ndate = \"yesterday\"\nscene = \"\"\n"), HasSubstr("x.log.toml:3:8"));
    EXPECT_THAT(mistakes("format = 1\n[[state]]\ndate = \"2026-13-01\"\nscene = \"format = 1\"\n"),
                HasSubstr("2026-11-29"));
    EXPECT_THAT(mistakes("format = 1\n[[state]]\ndate = \"2026-01-01\"\nscene = \"format = 1\"\n"),
                HasSubstr("state 1, line"));
    EXPECT_THAT(mistakes("format = 2\n"), HasSubstr("format"));
    EXPECT_THAT(mistakes("format = 1\nhead = 1\n"), HasSubstr("head"));
}

TEST(HeadLog, SaysWhenItIsFull) {
    HeadLog log;
    LogState state{"2026-11-29", "", load(testing::two_blade_file).value()};
    for (int i = 0; i < 1000 && log_complaint(log, state).empty(); ++i) log.states.push_back(state);
    EXPECT_GT(log.states.size(), 20U);
    EXPECT_THAT(log_complaint(log, state), HasSubstr("full"));
    EXPECT_TRUE(parse_log(write(log), "x"));  // what got in can be read
    for (const char* none : {"29.11.2026", "2026-02-30"}) {
        state.date = none;
        EXPECT_THAT(log_complaint({}, state), HasSubstr("2026-11-29"));
    }
}

TEST(HeadLog, TakesOnlyNotesThatCanBeReadAgain) {
    HeadLog log;
    LogState state{"2026-11-29", "", load(testing::two_blade_file).value()};
    const auto umlauts = [](int count) {
        std::string out;
        for (int i = 0; i < count; ++i) out += "\xC3\xBC";
        return out;
    };
    for (const std::string& note : {std::string("a\tb"), std::string("a\rb"), std::string("a\nb"), std::string("\x7F"),
                                    std::string("M\xFCller"), umlauts(301)}) {
        state.note = note;
        EXPECT_THAT(log_complaint(log, state), HasSubstr("one line of at most 300 letters")) << note;
    }
    for (const std::string& note : {std::string("as built"), umlauts(151), umlauts(300)}) {
        state.note = note;
        EXPECT_EQ(log_complaint(log, state), "");
        log.states.push_back(state);
    }
    const auto again = parse_log(write(log), "x");
    ASSERT_TRUE(again) << again.error().text();
    ASSERT_EQ(again->states.size(), 3U);
    EXPECT_EQ(again->states[2].note, umlauts(300));
}

TEST(HeadLog, CountsWhatDiffersFromTheLastState) {
    HeadLog log;
    Scene scene = load(testing::two_blade_file).value();
    EXPECT_THAT(answer(log, scene.head).text, HasSubstr("Nothing"));
    log.states.push_back({"2026-11-01", "", scene});
    EXPECT_THAT(answer(log, scene.head).text, HasSubstr("is as in the last one, of 2026-11-01."));
    scene.head.upper_links[1].error_mm += 0.3;
    EXPECT_EQ(studies::compare(log.states[0].scene.head, scene.head).numbers.size(), 1U);
    EXPECT_THAT(answer(log, scene.head).text, HasSubstr("1 number differs"));
    scene.head = log.states[0].scene.head;
    scene.head.mixing.cyclic_stick = head::CyclicStick::square;
    EXPECT_THAT(answer(log, scene.head).text, HasSubstr("though no number differs"));
}

}  // namespace
}  // namespace swashwright::scene
