// The tips in flight in the real window: links turned on trial until they run together, kept, taken back. Needs Xvfb
// and xdotool.
#include <gmock/gmock.h>

#include "kinematics/scene/scene.h"
#include "kinematics/studies/pitch/track_seen.h"
#include "tests/support/demo_head.h"
#include "tests/window/column.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

std::vector<int> steps_of(const nlohmann::json& report) {
    return report["values"]["track"]["steps"].get<std::vector<int>>();
}

class TrackWindow : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    Screen screen_;
    Folder folder_;
};

TEST_F(TrackWindow, LinksAreTurnedUntilTheTipsRunTogetherAndKept) {
    const std::string path = folder_.at("mine.toml");
    std::filesystem::copy_file(two_blade_file, path);
    DrivenWindow window(screen_, folder_, path);
    window.type_into("Upper links, link 2, error_mm", "0.4");
    ASSERT_TRUE(says(window, "unsaved", true));
    window.key("g");
    ASSERT_TRUE(shows(window, "track page"));
    window.click("track page");
    ASSERT_TRUE(
        window.wait_until([](const auto& r) { return r["values"]["track"]["split_mm"].template get<double>() > 1; }));

    // What it shows is the study's, of the head that is open.
    head::Description mine = two_blades();
    mine.upper_links[1].error_mm = 0.4;
    const head::Head head = head::Head::build(mine).value();
    EXPECT_NEAR(window.value("track")["split_mm"].get<double>(), studies::track_seen(head, {})->split_mm, 1e-9);
    const nlohmann::json pitch = window.value("pitch_deg");

    window.click("track link 2 shorter");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return steps_of(r) == std::vector{0, -1}; }));
    EXPECT_NEAR(window.value("track")["split_mm"].get<double>(), studies::track_seen(head, {}, {0, -1})->split_mm,
                1e-9);
    EXPECT_EQ(window.value("pitch_deg"), pitch) << "tried, not kept";
    window.click("track best");
    ASSERT_TRUE(window.wait_until(
        [](const auto& r) { return steps_of(r) == r["values"]["track"]["best"].template get<std::vector<int>>(); }));
    EXPECT_THAT(window.value("track")["said"].get<std::string>(), HasSubstr("The tips run in one line"));
    window.click("track back");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return steps_of(r) == std::vector{0, 0}; }));
    window.click("track best");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return steps_of(r) != std::vector{0, 0}; }));
    window.click("track keep");
    ASSERT_TRUE(says(window, "last_edit", "upper links turned for the track"));
    ASSERT_TRUE(window.wait_until([](const auto& r) { return steps_of(r) == std::vector{0, 0}; }));
    EXPECT_LT(window.value("track")["split_mm"].get<double>(), 0.5);
    EXPECT_LT(window.value("split_deg").get<double>(), 0.05);
    window.key("ctrl+z");
    ASSERT_TRUE(window.wait_until([&](const auto& r) { return r["values"]["pitch_deg"] == pitch; }));
    EXPECT_GT(window.value("track")["split_mm"].get<double>(), 1);
    window.key("Prior");  // other sticks, other tips
    EXPECT_TRUE(window.wait_until([](const auto& r) { return r["values"]["collective"] > 0; }));
    window.click("track lessons");
    EXPECT_TRUE(shows(window, "track page"));
}

TEST_F(TrackWindow, AHeadWithoutUpperLinksSaysSo) {
    DrivenWindow window(screen_, folder_, SWASHWRIGHT_SCENES "/hinged_links_450.toml");
    window.key("g");
    ASSERT_TRUE(shows(window, "track page"));
    window.click("track page");
    ASSERT_TRUE(shows(window, "track lessons"));
    EXPECT_FALSE(window.value("track").is_object());
    EXPECT_TRUE(window.running());
}

}  // namespace
}  // namespace swashwright::testing
