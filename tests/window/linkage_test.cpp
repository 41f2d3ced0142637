// Linkages of other kinds in the real window: what a hand and a rudder move, and a bellcrank put in between by the
// forms alone. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"
#include "tests/support/demo_head.h"
#include "tests/window/column.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

class LinkageWindow : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }
    static std::string linkage(const char* name) {
        return std::string(SWASHWRIGHT_TEST_DATA "/linkages/") + name + "_01.toml";
    }
    static double pitch(const DrivenWindow& window) { return window.value("pitch_deg")[0].get<double>(); }

    Screen screen_;
    Folder folder_;
};

TEST_F(LinkageWindow, ARudderMovesTheBladesOfATail) {
    DrivenWindow window(screen_, folder_, linkage("tail"));
    const double centred = pitch(window);
    window.drag("rudder", 0.9, 0.5);
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["rudder"] > 0.7; }));
    const auto head = head::Head::build(scene::load(linkage("tail"))->head);
    const double rudder = window.value("rudder").get<double>();
    EXPECT_NEAR(pitch(window), head->pose({0, 0, 0, rudder}, 0)->pitch_deg[0], 1e-6);
    EXPECT_GT(std::abs(pitch(window) - centred), 2);
    window.key("Home");
    ASSERT_TRUE(says(window, "rudder", 0.0));
    EXPECT_NEAR(pitch(window), centred, 1e-6);
    EXPECT_FALSE(window.value("unsaved").get<bool>());
}

TEST_F(LinkageWindow, ASliderMovesWhatIsMovedByHand) {
    DrivenWindow window(screen_, folder_, linkage("rocking_spindle"));
    const double neutral = pitch(window);
    window.drag("hand lever 1", 0.9, 0.5);
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["hands"].contains("lever[1]"); }));
    const double angle = window.value("hands")["lever[1]"].get<double>();
    EXPECT_GT(angle, 1);
    const auto head = head::Head::build(scene::load(linkage("rocking_spindle"))->head);
    EXPECT_NEAR(pitch(window), head->pose(head::Sticks{}, 0, std::vector{angle})->pitch_deg[0], 1e-6);
    EXPECT_GT(std::abs(pitch(window) - neutral), 0.1);
    window.type_into("hand lever 1 number", "-2");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["hands"]["lever[1]"] == -2.0; }));
    window.click("hand lever 1 neutral");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["hands"].empty(); }));
    EXPECT_NEAR(pitch(window), neutral, 1e-6);
}

TEST_F(LinkageWindow, ABellcrankIsPutInBetweenByTheFormsAlone) {
    const std::string path = folder_.at("mine.toml");
    std::filesystem::copy_file(two_blade_file, path);
    DrivenWindow window(screen_, folder_, path);
    const double before = pitch(window);
    for (const char* title : {"Lower links", "Upper links"}) press(window, std::string("section ") + title);
    press(window, "section New parts, pins");
    press(window, "add a lever");
    ASSERT_TRUE(says(window, "hangs", true));
    EXPECT_THAT(window.sentence(), HasSubstr("ever 1"));
    // It turns where the horn of the right servo turns, about the same line, its first arm as the horn.
    enter(window, "lever 1, name", "bellcrank");
    enter(window, "lever 1, axis 2", "-1");
    enter(window, "lever 1, axis 1", "0");
    enter(window, "lever 1, zero 1", "1");
    enter(window, "lever 1, zero 2", "0");
    enter(window, "Levers, bellcrank, pivot, pivot_mm x", "-3");
    enter(window, "Levers, bellcrank, pivot, pivot_mm y", "-22.516660498395403");
    enter(window, "Levers, bellcrank, pivot, pivot_mm z", "10");
    enter(window, "Levers, bellcrank, ball 1, balls_mm x", "16");
    enter(window, "Levers, bellcrank, ball 2, balls_mm y", "16");
    press(window, "section Levers");
    press(window, "section Lower links");
    press(window, "Lower links, link 2, length_mm");
    window.key("Escape");  // else the wheel would turn the number
    press(window, "more Lower links");
    enter(window, "lower link 2, ends 1", "lever[1].ball[1]");
    press(window, "section Lower links");
    press(window, "add a link");
    press(window, "link 1, ends 1, pick");
    window.key("1");  // from the corner; the view moves for a quarter of a second
    pause(0.5);
    window.click("ball servo[2].ball");
    ASSERT_TRUE(says(window, "last_edit", "link 1, ends 1"));
    enter(window, "link 1, ends 2", "lever[1].ball[2]");
    press(window, "link 1, as it stands");
    ASSERT_TRUE(says(window, "closes", true));
    EXPECT_FALSE(window.value("hangs").get<bool>());
    EXPECT_NEAR(pitch(window), before, 0.2);  // the rod's length has two decimals
    window.key("ctrl+s");
    ASSERT_TRUE(says(window, "unsaved", false));
    const auto saved = scene::load(path);
    ASSERT_TRUE(saved) << saved.error().text();
    EXPECT_EQ(head::format_of(saved->head), 2);
    ASSERT_EQ(saved->head.links.size(), 1U);
    EXPECT_EQ((*saved->head.links[0].ends)[0], (head::BallName{head::BallName::Of::servo, 1}));
    EXPECT_TRUE(head::Head::build(saved->head)->pose(head::Sticks{0.5, 0.3, 0.1}, 40));
}

}  // namespace
}  // namespace swashwright::testing
