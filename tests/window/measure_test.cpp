// From calliper readings to a head and its first half turn, in the real window. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include "tests/support/demo_head.h"
#include "tests/window/driven_window.h"

namespace swashwright::testing {
namespace {

using ::testing::EndsWith;
using ::testing::HasSubstr;

class MeasureWindow : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    Screen screen_;
    Folder folder_;
};

TEST_F(MeasureWindow, ReadingsMakeAHeadAndTheAnswerSaysWhichLinkToTurn) {
    const std::string path = folder_.at("two_blade_600.toml");
    std::filesystem::copy_file(two_blade_file, path);
    std::filesystem::copy_file(SWASHWRIGHT_SCENES "/readings/two_blade_600.measured.toml",
                               folder_.at("two_blade_600.measured.toml"));
    DrivenWindow window(screen_, folder_, path);
    const auto taken = [](const auto& report) { return report["values"]["measure"]["taken"].template get<int>(); };
    window.click("measure");
    window.click("measure next");
    window.type_into("measure ball_diameter 1", "4.8");
    ASSERT_TRUE(window.wait_until([&](const auto& report) { return taken(report) == 1; }));
    window.click("measure read");  // the rest of them: the file beside the scene is proposed
    window.key("Return");
    window.click("do not save");  // what was typed would go, so it asks
    ASSERT_TRUE(window.wait_until([&](const auto& report) { return taken(report) == 48; }));
    window.click("measure end");
    window.click("measure make");
    ASSERT_TRUE(window.wait_until([](const auto& report) {
        return report["values"]["path"].template get<std::string>().find("measured_head") != std::string::npos;
    }));
    EXPECT_TRUE(window.value("unsaved").get<bool>());
    EXPECT_TRUE(window.value("closes").get<bool>());
    EXPECT_THAT(window.value("path").get<std::string>(), EndsWith("measured_head.toml"));

    window.click("questions");
    window.click("question tracking");
    ASSERT_TRUE(window.wait_until([](const auto& report) {
        return report["values"].contains("answers") && report["values"]["answers"].contains("tracking");
    }));
    // The readings are of a head with upper link 2 0.4 mm too long.
    EXPECT_THAT(window.value("answers")["tracking"].get<std::string>(), HasSubstr("upper link 2: half a turn shorter"));
}

TEST_F(MeasureWindow, AReadingOnTheOpenHeadMovesItsNumber) {
    const std::string path = folder_.at("two_blade_600.toml");
    std::filesystem::copy_file(two_blade_file, path);
    DrivenWindow window(screen_, folder_, path);
    const auto taken = [](const auto& report) { return report["values"]["readings"]["places"].template get<int>(); };
    window.click("measure");
    window.click("measure open");
    window.click("places group links");
    for (const int round : {0, 1}) {
        window.type_into("places upper_link[2]", round == 0 ? "61.4" : "61.2");
        ASSERT_TRUE(window.wait_until([&](const auto& report) { return taken(report) == 1; }));
        window.click("places set");
        ASSERT_TRUE(window.wait_until(
            [](const auto& report) { return report["values"]["last_edit"] == "numbers as measured"; }));
        EXPECT_TRUE(window.value("unsaved").get<bool>());
        EXPECT_TRUE(window.value("closes").get<bool>());
        window.key("ctrl+z");
        ASSERT_TRUE(
            window.wait_until([](const auto& report) { return !report["values"]["unsaved"].template get<bool>(); }));
    }
}

}  // namespace
}  // namespace swashwright::testing
