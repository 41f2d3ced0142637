// The form under the ledger, inches, a finer monitor and readings left behind, in the real window. Needs Xvfb and
// xdotool.
#include <gmock/gmock.h>

#include <csignal>
#include <sstream>

#include "kinematics/scene/scene.h"
#include "tests/support/demo_head.h"
#include "tests/window/column.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

class FormWindow : public ::testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool";
        path_ = folder_.at("mine.toml");
        std::filesystem::copy_file(two_blade_file, path_);
    }
    Screen screen_;
    Folder folder_;
    std::string path_;
};

TEST_F(FormWindow, NumbersAreGivenAndTakenAwayBladesAddedAndAllOfItIsUndone) {
    const std::string before = scene::write(*scene::load(path_));
    DrivenWindow window(screen_, folder_, path_);
    for (const char* title : {"Lower links", "Upper links", "Servos"})  // two are closed, so that the form has room
        press(window, std::string("section ") + title);
    press(window, "more Servos");
    enter(window, "servo 1, pulse_centre_us", "1520");
    ASSERT_TRUE(says(window, "last_edit", "servo 1, pulse_centre_us"));
    EXPECT_EQ(window.value("selected"), "servo 1");  // lit in the picture
    enter(window, "servo 1, pulse_centre_us", "3");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"].contains("refused"); }));
    EXPECT_THAT(window.value("refused").get<std::string>(), HasSubstr("from 100 to 5000"));
    press(window, "servo 1, aileron_weight, give");
    ASSERT_TRUE(says(window, "last_edit", "servo 1, aileron_weight"));
    press(window, "servo 1, aileron_weight, take away");
    press(window, "more Servos");
    press(window, "section Servos");
    press(window, "section Blade pitch offsets");
    press(window, "more Blade pitch offsets");
    press(window, "add a blade");
    ASSERT_TRUE(says(window, "blades", 3));
    EXPECT_TRUE(window.value("closes").get<bool>());
    EXPECT_LT(window.value("residual_mm").get<double>(), 1e-10);
    EXPECT_EQ(window.value("pitch_deg").size(), 3U);

    window.key("ctrl+s");
    ASSERT_TRUE(says(window, "unsaved", false));
    const auto saved = scene::load(path_);
    ASSERT_TRUE(saved);
    EXPECT_EQ(saved->head.rotor.blades, 3);
    EXPECT_EQ(saved->head.servos[0].pulse_centre_us, 1520);
    EXPECT_FALSE(saved->head.servos[0].aileron_weight);

    for (int steps = 0; steps < 4; ++steps) window.key("ctrl+z");  // a blade, away, given, the pulse
    ASSERT_TRUE(says(window, "last_edit", ""));
    EXPECT_EQ(window.value("blades"), 2);
    window.key("ctrl+s");
    ASSERT_TRUE(says(window, "unsaved", false));
    EXPECT_EQ(scene::write(*scene::load(path_)), before);
}

TEST_F(FormWindow, LengthsAreReadAndTypedInInchesAndTheSceneStaysInMillimetres) {
    DrivenWindow window(screen_, folder_, path_);
    window.click("inches");
    ASSERT_TRUE(says(window, "inches", true));
    enter(window, "Upper links, link 2, error_mm", "0.01");  // in: 0.254 mm
    ASSERT_TRUE(says(window, "unsaved", true));
    window.key("ctrl+s");
    ASSERT_TRUE(says(window, "unsaved", false));
    EXPECT_NEAR(scene::load(path_)->head.upper_links[1].error_mm, 0.254, 1e-12);
    enter(window, "Upper links, link 2, error_mm", "0.3 mm");
    window.key("ctrl+s");
    ASSERT_TRUE(says(window, "unsaved", false));
    EXPECT_NEAR(scene::load(path_)->head.upper_links[1].error_mm, 0.3, 1e-12);
}

TEST_F(FormWindow, ReadingsThatWereTypedOutliveAKill) {
    constexpr int left_work = 6;
    const auto taken = [](const auto& report) {
        return report["values"].contains("measure") ? report["values"]["measure"]["taken"].template get<int>() : -1;
    };
    {
        DrivenWindow window(screen_, folder_, path_);
        window.click("measure");
        ASSERT_TRUE(shows(window, "measure next"));
        window.click("measure next");
        ASSERT_TRUE(shows(window, "measure ball_diameter 1"));
        window.type_into("measure ball_diameter 1", "4.8");
        ASSERT_TRUE(window.wait_until([&](const auto& report) { return taken(report) == 1; }));
        pause(1.5);  // they are kept within a second
        ::kill(window.id(), SIGKILL);
    }
    DrivenWindow window(screen_, folder_, path_);
    ASSERT_TRUE(says(window, "dialog", left_work));
    window.click("take up");
    ASSERT_TRUE(window.wait_until([&](const auto& report) { return taken(report) == 1; }));
    EXPECT_FALSE(window.value("unsaved").get<bool>());  // the head was not touched
}

TEST(FineMonitor, MakesTextAndWhatCanBeHitLarger) {
    double height = 0;
    for (const int dots : {96, 144}) {
        const Screen screen({"-screen", "0", "1920x1200x24", "-noreset"});
        ASSERT_TRUE(screen.there());
        // The X resource by which desktops tell programs their scale; 96 dots an inch are 1.
        ASSERT_EQ(Process({"xprop", "-root", "-f", "RESOURCE_MANAGER", "8s", "-set", "RESOURCE_MANAGER",
                           fmt::format("Xft.dpi: {}", dots)},
                          {screen.variable()})
                      .wait(),
                  0)
            << "apt-get install x11-utils";
        const Folder folder;
        DrivenWindow window(screen, folder, two_blade_file);
        EXPECT_EQ(window.value("scale"), dots / 96.0);
        const auto box = window.report()["widgets"]["undo"];
        const double now = box[3].get<double>() - box[1].get<double>();
        if (height > 0) {
            EXPECT_NEAR(now, 1.5 * height, 2);  // whole pixels
        }
        height = now;
        window.click("undo");  // where it is drawn is where it is hit: nothing to undo, and nothing breaks
        window.drag("collective", 0.5, 0.1);
        EXPECT_NEAR(window.value("collective").get<double>(), 0.8, 0.03);
    }
}

}  // namespace
}  // namespace swashwright::testing
