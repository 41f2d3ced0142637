// The tour of README.md, a lesson and the map of what binds, with no mouse at all. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include <cmath>

#include "tests/support/demo_head.h"
#include "tests/window/driven_window.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

class ByKeys : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    static std::string framed(const DrivenWindow& window) { return window.value("framed"); }
    /// Presses a key until the frame stands on something.
    static void go_to(DrivenWindow& window, const std::string& widget, const std::string& key = "Tab") {
        constexpr int most = 150;
        for (int i = 0; i < most && framed(window) != widget; ++i) {
            const std::string before = framed(window);
            window.keys({key});
            for (int tries = 0; tries < 400 && framed(window) == before; ++tries) pause(0.02);
        }
        ASSERT_EQ(framed(window), widget);
    }
    static void type_into(DrivenWindow& window, const std::string& widget, const std::string& text,
                          const std::string& key = "Tab") {
        go_to(window, widget, key);
        window.key("Return");
        window.type(text);
    }
    /// Where the frame stands is seen: it lies in the window.
    static void expect_seen(const DrivenWindow& window, const std::string& widget) {
        const nlohmann::json report = window.report();
        ASSERT_TRUE(report["widgets"].contains(widget)) << widget << " is out of sight";
    }

    Screen screen_;
    Folder folder_;
};

TEST_F(ByKeys, TheFiveMinutesOfTheReadmeAreGoneThrough) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    // 1: from elsewhere, and back into the picture.
    const double azimuth = window.value("camera")["azimuth_deg"];
    window.key("2");
    EXPECT_GT(std::abs(window.value("camera")["azimuth_deg"].get<double>() - azimuth), 10);
    window.key("f");
    // 2: the tray.
    window.key("Up");
    EXPECT_GT(window.value("elevator").get<double>(), 0.01);
    window.key("Prior");
    EXPECT_GT(window.value("collective").get<double>(), 0.01);
    window.key("F8");
    go_to(window, "pad", "F8");
    window.key("Right");
    EXPECT_GT(window.value("aileron").get<double>(), 0.01);
    type_into(window, "collective_number", "0.5");
    EXPECT_NEAR(window.value("collective").get<double>(), 0.5, 1e-9);
    window.key("space");
    EXPECT_TRUE(window.value("turning"));
    window.key("space");
    window.key("Home");
    EXPECT_EQ(window.value("collective").get<double>(), 0);
    window.key("Escape");
    // 3 and 4: the ledger. Tab types in its first number; Escape leaves that to the frame.
    window.key("Tab");
    window.key("Escape");
    EXPECT_EQ(framed(window), "Lower links, link 1, length_mm");
    type_into(window, "Upper links, link 2, error_mm", "0.3");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"]; }));
    EXPECT_THAT(window.sentence(), HasSubstr("upper link 2 is 0.30 mm too long."));
    expect_seen(window, "Upper links, link 2, error_mm");
    window.key("bracketright");
    EXPECT_EQ(window.value("exaggeration").get<double>(), 2);
    // 5: the cyclic stick.
    go_to(window, "pad", "F8");
    window.key("Down");
    EXPECT_LT(window.value("elevator").get<double>(), -0.01);
    window.key("Home");
    window.key("Escape");
    // 6: a link that does not reach, and back.
    window.key("Tab");
    window.key("Escape");
    type_into(window, "Upper links, link 1, length_mm", "20");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return !report["values"]["closes"]; }));
    EXPECT_THAT(window.sentence(), HasSubstr("too short to reach"));
    window.key("ctrl+z");
    EXPECT_TRUE(window.wait_until([](const auto& report) { return report["values"]["closes"]; }));
}

int step_of(const nlohmann::json& report) {
    const nlohmann::json& values = report["values"];
    return values.contains("lesson") ? values["lesson"]["step"].get<int>() : 0;
}

TEST_F(ByKeys, ALessonIsGoneThrough) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.key("g");
    window.key("Tab");
    go_to(window, "lesson 1");
    go_to(window, "lesson 6", "Down");  // levelling the ring
    window.key("Return");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return step_of(r) == 1; }));
    for (int step = 2; step <= 4; ++step) {
        window.key("j");
        ASSERT_TRUE(window.wait_until([&](const auto& r) { return step_of(r) == step; }));
    }
    window.key("Tab");
    go_to(window, "lower_link[2].length_mm more");
    for (int half_turns = 0; half_turns < 5; ++half_turns) window.key("Return");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["lesson"]["solved"] == true; }));
    go_to(window, "lesson next");
    window.key("Return");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return step_of(r) == 5; }));
    go_to(window, "answer 1");
    go_to(window, "answer 3", "Down");
    window.key("Return");  // wrong
    EXPECT_EQ(window.value("lesson")["solved"], false);
    go_to(window, "answer 1", "Up");
    window.key("Return");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["lesson"]["solved"] == true; }));
    window.key("j");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return step_of(r) == 0; }));
}

TEST_F(ByKeys, TheMapIsReadAndSteppedInto) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.key("q");
    window.key("Tab");
    go_to(window, "question reach");
    window.key("Return");
    ASSERT_TRUE(window.wait_until([](const auto& report) {  // in full: with what may touch
        const auto& values = report["values"];
        return values.contains("answers") && values["answers"].contains("reach") &&
               values["answers"]["reach"].template get<std::string>().find("All 95 checks") != std::string::npos;
    }));
    go_to(window, "envelope map");
    for (int i = 0; i < 2; ++i) window.key("Right");
    EXPECT_EQ(window.value("aileron").get<double>(), 0);  // the arrows are the map's
    EXPECT_EQ(window.value("elevator").get<double>(), 0);
    window.key("Return");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"].contains("selected"); }));
    EXPECT_EQ(window.value("aileron").get<double>(), 0);  // shown, not stood at
    EXPECT_EQ(window.value("elevator").get<double>(), 0);
    go_to(window, "map stand");
    window.key("Return");
    EXPECT_TRUE(window.wait_until([](const auto& report) {
        const auto& values = report["values"];
        return std::hypot(values["aileron"].template get<double>(), values["elevator"].template get<double>()) > 0.2;
    }));
}

TEST_F(ByKeys, ADialogIsWorkedAndLeft) {
    constexpr int none = 0, open = 3;
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.key("F8");
    go_to(window, "open");
    window.key("Return");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["dialog"] == open; }));
    window.key("Tab");  // out of the name, into the folder
    EXPECT_THAT(framed(window), HasSubstr("choice "));
    go_to(window, "choice four_servos_700.toml", "Down");
    window.key("Return");
    go_to(window, "do");
    window.key("Return");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["dialog"] == none; }));
    EXPECT_THAT(window.value("path").get<std::string>(), HasSubstr("four_servos_700.toml"));
    window.key("ctrl+o");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["dialog"] == open; }));
    window.key("Escape");
    EXPECT_TRUE(window.wait_until([](const auto& r) { return r["values"]["dialog"] == none; }));
}

}  // namespace
}  // namespace swashwright::testing
