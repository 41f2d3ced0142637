// A lesson in the real window, from start to end, while a head with unsaved work waits. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include "kinematics/scene/scene.h"
#include "tests/support/demo_head.h"
#include "tests/window/driven_window.h"

namespace swashwright::testing {
namespace {

using ::testing::Contains;

int step_of(const nlohmann::json& report) {
    const nlohmann::json& values = report["values"];
    return values.contains("lesson") ? values["lesson"]["step"].get<int>() : 0;
}

class LessonWindow : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    Screen screen_;
    Folder folder_;
};

TEST_F(LessonWindow, ALessonIsGoneThroughAndTheOpenHeadComesBackUntouched) {
    const std::string path = folder_.at("mine.toml");
    std::filesystem::copy_file(two_blade_file, path);
    DrivenWindow window(screen_, folder_, path);
    window.type_into("Upper links, link 2, error_mm", "0.3");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["unsaved"] == true; }));
    const double split = window.value("split_deg");

    window.click("lessons");
    window.click("lesson 6");  // levelling the ring
    ASSERT_TRUE(window.wait_until([](const auto& r) { return step_of(r) == 1; }));
    EXPECT_EQ(window.value("lesson")["title"], "Levelling the ring");
    EXPECT_EQ(window.value("users_path"), path);
    EXPECT_EQ(window.value("users_unsaved"), true);
    EXPECT_EQ(window.value("pitch_deg").size(), 3U);  // the lesson's own head
    for (int step = 2; step <= 4; ++step) {
        window.key("j");
        ASSERT_TRUE(window.wait_until([&](const auto& r) { return step_of(r) == step; }));
    }
    EXPECT_EQ(window.value("lesson")["solved"], false);
    for (int half_turns = 0; half_turns < 5; ++half_turns) window.click("lower_link[2].length_mm more");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["lesson"]["solved"] == true; }));
    EXPECT_NEAR(window.value("height_mm").get<double>(), 55, 0.01);

    // Another sheet shows the open head; the lesson waits at its step.
    window.click("parts");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["pitch_deg"].size() == 2; }));
    EXPECT_EQ(window.value("unsaved"), true);
    window.key("g");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return step_of(r) == 4; }));

    window.click("lesson next");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return step_of(r) == 5; }));
    window.click("answer 3");  // wrong
    EXPECT_EQ(window.value("lesson")["solved"], false);
    window.click("answer 1");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["lesson"]["solved"] == true; }));
    window.click("lesson next");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return step_of(r) == 0; }));
    EXPECT_THAT(window.value("lessons_done").get<std::vector<std::string>>(), Contains("Levelling the ring"));

    EXPECT_EQ(window.value("path"), path);
    EXPECT_EQ(window.value("unsaved"), true);
    EXPECT_EQ(window.value("split_deg").get<double>(), split);
    window.key("ctrl+z");  // its undo is still there
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["unsaved"] == false; }));
}

TEST_F(LessonWindow, SavingInALessonSavesTheOpenHead) {
    const std::string path = folder_.at("mine.toml");
    std::filesystem::copy_file(two_blade_file, path);
    DrivenWindow window(screen_, folder_, path);
    window.key("g");
    window.click("lesson 6");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return step_of(r) == 1; }));
    window.key("ctrl+s");
    ASSERT_TRUE(window.wait_until([&](const auto& r) { return r["values"]["path"] == path; }));
    EXPECT_EQ(scene::load(path)->head.rotor.blades, 2);
    EXPECT_EQ(window.value("pitch_deg").size(), 2U);
}

}  // namespace
}  // namespace swashwright::testing
