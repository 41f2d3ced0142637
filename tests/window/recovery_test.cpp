// The real program is killed in the middle of its work. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include <csignal>
#include <deque>
#include <random>

#include "tests/support/demo_head.h"
#include "tests/window/column.h"
#include "tests/window/driven_window.h"

namespace swashwright::testing {
namespace {

/// How often the program is killed: a few times in every run, SWASHWRIGHT_KILLS=100 by hand (about five minutes).
int kills() {
    const char* wanted = std::getenv("SWASHWRIGHT_KILLS");
    return wanted ? std::atoi(wanted) : 4;
}

/// Degrees between the blades; below zero where it is not told.
double split_of(const nlohmann::json& report) {
    return report.is_object() ? report["values"].value("split_deg", -1.0) : -1.0;
}

class KilledWindow : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    Screen screen_;
    Folder folder_;
};

TEST_F(KilledWindow, OffersItsWorkAtTheNextStart) {
    const std::string path = folder_.at("mine.toml");
    std::filesystem::copy_file(two_blade_file, path);
    constexpr int none = 0;
    {
        DrivenWindow window(screen_, folder_, path);
        window.type_into("Upper links, link 2, error_mm", "0.3");
        ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"] == true; }));
        pause(1.5);  // it is kept within a second
        ::kill(window.id(), SIGKILL);
    }
    {
        DrivenWindow window(screen_, folder_, path);
        ASSERT_TRUE(window.wait_until([](const auto& report) { return report["widgets"].contains("take up"); }));
        window.click("take up");
        ASSERT_TRUE(window.wait_until([&](const auto& report) { return report["values"]["dialog"] == none; }));
        EXPECT_TRUE(window.value("unsaved").get<bool>());
        EXPECT_TRUE(window.wait_until([](const auto& report) { return split_of(report) > 0.3; }));
        window.key("ctrl+s");
        ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"] == false; }));
        pause(1.5);
        ::kill(window.id(), SIGKILL);
    }
    DrivenWindow window(screen_, folder_, path);
    pause(0.5);
    EXPECT_EQ(window.value("dialog"), none);
    EXPECT_GT(window.value("split_deg").get<double>(), 0.3);  // it was saved
}

// A length grows while the mouse holds a button; the program ends in the middle of it. What comes back is what stood
// there a few seconds before the end, or later.
TEST_F(KilledWindow, InTheMiddleOfAnEditLosesOnlyTheLastSeconds) {
    using Clock = std::chrono::steady_clock;
    constexpr int none = 0;
    constexpr double lost_at_most_s = 3;  // kept once a second; the rest is for a loaded machine
    const std::string path = folder_.at("mine.toml"), more = "Upper links, link 2, error_mm, more";
    std::filesystem::copy_file(two_blade_file, path);
    std::mt19937 random(5);
    double least_split = 0;
    for (int kill = 0; kill <= kills(); ++kill) {
        SCOPED_TRACE(kill);
        DrivenWindow window(screen_, folder_, path);
        if (kill > 0) {
            ASSERT_TRUE(window.wait_until([](const auto& report) { return report["widgets"].contains("take up"); }));
            window.click("take up");
            ASSERT_TRUE(window.wait_until([&](const auto& report) {
                return report["values"]["dialog"] == none && split_of(report) >= least_split - 1e-9;
            }));
        }
        if (kill == kills()) break;
        window.type_into("Upper links, link 2, error_mm", "0.1");
        window.press(more, 0.5, 0.5);
        std::deque<std::pair<Clock::time_point, double>> seen;
        const auto end = Clock::now() + std::chrono::milliseconds(std::uniform_int_distribution(300, 3500)(random));
        while (Clock::now() < end) {
            const auto now = Clock::now();
            seen.emplace_back(now, split_of(window.report()));
            pause(0.02);
        }
        ::kill(window.id(), SIGKILL);
        window.release();
        least_split = 0;  // what stood there before this edit is long kept
        for (const auto& [when, split] : seen)
            if (end - when > std::chrono::duration<double>(lost_at_most_s)) least_split = split;
    }
}

// Killed twice in a row, with a change, gauge and calliper readings between, and with the question what is to become of
// unsaved work on the screen: all of it is there after each kill.
TEST_F(KilledWindow, TwiceInARowLosesNothing) {
    constexpr int none = 0, unsaved = 5;
    // As many as find room on the screen.
    const std::vector<std::string> fields{"measure ball_diameter 1", "measure shaft_diameter 1",
                                          "measure cross_bolt_diameter 1"};
    constexpr int most_gauge = 3, most_calliper = 3;
    const std::string path = folder_.at("mine.toml"), error = "Upper links, link 2, error_mm";
    std::filesystem::copy_file(two_blade_file, path);
    double split = 0;
    for (int kill = 0; kill <= 2 * kills(); ++kill) {
        SCOPED_TRACE(kill);
        DrivenWindow window(screen_, folder_, path);
        const auto dialog_is = [&](int dialog) {
            return window.wait_until([&](const auto& report) { return report["values"]["dialog"] == dialog; });
        };
        if (kill > 0) {
            ASSERT_TRUE(window.wait_until([](const auto& report) { return report["widgets"].contains("take up"); }));
            window.click("take up");
            ASSERT_TRUE(dialog_is(none));
            EXPECT_TRUE(
                window.wait_until([&](const auto& report) { return std::abs(split_of(report) - split) < 1e-9; }));
            const auto readings = window.value("readings");
            EXPECT_EQ(readings["gauge"], std::min(kill / 2, most_gauge));
            EXPECT_EQ(readings["calliper"], std::min(kill, most_calliper));
            EXPECT_TRUE(window.value("unsaved").get<bool>());
        }
        if (kill == 2 * kills()) break;
        window.click("parts");
        window.type_into(error, fmt::format("{:.2f}", 0.1 + 0.01 * kill));
        ASSERT_TRUE(window.wait_until([&](const auto& report) { return split_of(report) > split + 1e-3; }));
        split = split_of(window.report());
        if (kill % 2 == 1 && kill / 2 < most_gauge) {
            window.click("questions");
            if (kill == 1) press(window, "question diagnose");
            press(window, "Add pitch reading");
            enter(window, fmt::format("pitch reading {} reads", kill / 2 + 1), "0.7");
        }
        if (kill < most_calliper) {
            window.click("measure");
            window.click("measure next");
            window.type_into(fields[static_cast<std::size_t>(kill)], "4.8");
        }
        window.key("ctrl+o");  // what asks first has lost nothing, and does not keep the rest from being kept
        window.key("Return");
        ASSERT_TRUE(dialog_is(unsaved));
        pause(1.5);  // it is kept within a second
        ::kill(window.id(), SIGKILL);
    }
}

}  // namespace
}  // namespace swashwright::testing
