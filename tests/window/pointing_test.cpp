// The pointer in the picture, names and the view along a link, on the real window. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include <cmath>

#include "tests/support/demo_head.h"
#include "tests/window/driven_window.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

class Pointing : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    /// A place of the picture where a click chooses a part of this name.
    static std::optional<std::pair<double, double>> find(DrivenWindow& window, const std::string& part) {
        for (double down = 0.3; down < 0.75; down += 0.06) {
            for (double across = 0.3; across < 0.7; across += 0.015) {
                window.move_to("picture", across, down);
                pause(0.35);  // it has to rest
                const nlohmann::json note = window.value("note");
                if (note.is_string() && note.get<std::string>().starts_with(part)) return std::pair(across, down);
            }
        }
        return std::nullopt;
    }

    Screen screen_;
    Folder folder_;
};

TEST_F(Pointing, RestingOnALinkTellsItsLengthAndLeavingTakesTheNoteAway) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const auto at = find(window, "upper link");
    ASSERT_TRUE(at);
    const std::string note = window.value("note");
    EXPECT_THAT(note, HasSubstr("centre to centre"));
    EXPECT_THAT(note, HasSubstr(" mm"));
    EXPECT_THAT(note, HasSubstr("error"));
    const auto box = window.report()["widgets"]["note"], picture = window.report()["widgets"]["picture"];
    ASSERT_TRUE(box.is_array());
    for (int k : {0, 1}) {
        EXPECT_GE(box[k].get<double>(), picture[k].get<double>());
        EXPECT_LE(box[k + 2].get<double>(), picture[k + 2].get<double>());
    }
    window.move_to("collective");
    EXPECT_TRUE(window.wait_until([](const nlohmann::json& now) {
        return now["values"]["note"] == "" && !now["widgets"].contains("note");
    }));
}

TEST_F(Pointing, ADragOfTheCameraShowsNoNote) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const auto at = find(window, "upper link");
    ASSERT_TRUE(at);
    window.press("picture", at->first, at->second);
    EXPECT_TRUE(
        window.wait_until([](const nlohmann::json& now) { return now["values"]["note"].get<std::string>().empty(); }));
    pause(0.4);  // nor does one come later
    EXPECT_EQ(window.value("note"), "");
    window.release();
    EXPECT_TRUE(window.wait_until([](const nlohmann::json& now) {
        return now["values"]["note"].get<std::string>().find("upper link") != std::string::npos;
    }));
}

TEST_F(Pointing, TheViewAlongALinkWantsALinkAndLooksDownItsAxis) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const nlohmann::json before = window.value("camera");
    window.click("view_link");
    window.key("5");
    EXPECT_EQ(window.value("camera"), before);
    const auto at = find(window, "upper link");
    ASSERT_TRUE(at);
    window.click("picture", at->first, at->second);
    EXPECT_THAT(window.value("selected").get<std::string>(), HasSubstr("upper link"));
    window.key("5");
    pause(0.6);  // the camera is on its way for a quarter of a second
    const double height = window.value("camera")["height_deg"];
    EXPECT_GT(height, 60);  // upper links stand nearly upright
    window.click("view_link");
    pause(0.6);
    EXPECT_NEAR(window.value("camera")["height_deg"].get<double>(), -height, 1e-6);
}

TEST_F(Pointing, LabelsAreSwitchedByWordAndKey) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    EXPECT_EQ(window.value("named").size(), 0);
    window.click("labels");
    EXPECT_TRUE(window.wait_until([](const nlohmann::json& report) { return report["values"]["named"].size() > 12; }));
    window.key("p");
    EXPECT_TRUE(window.wait_until([](const nlohmann::json& report) { return report["values"]["named"].empty(); }));
}

}  // namespace
}  // namespace swashwright::testing
