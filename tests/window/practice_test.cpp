// A hidden fault looked for in the real window, while a head with unsaved work waits. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include "kinematics/studies/diagnosis/fault_words.h"
#include "kinematics/studies/diagnosis/practice_play.h"
#include "tests/support/demo_head.h"
#include "tests/window/column.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

bool readings_are(const DrivenWindow& window, std::size_t count) {
    return window.wait_until([&](const auto& r) { return r["values"]["practice"]["readings"] == count; });
}

class PracticeWindow : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    Screen screen_;
    Folder folder_;
};

TEST_F(PracticeWindow, AFaultIsFoundByTheGaugeAndTheOpenHeadComesBackUntouched) {
    const std::string path = folder_.at("mine.toml");
    std::filesystem::copy_file(two_blade_file, path);
    DrivenWindow window(screen_, folder_, path);
    window.type_into("Upper links, link 2, error_mm", "0.3");
    ASSERT_TRUE(says(window, "unsaved", true));
    const nlohmann::json split = window.value("split_deg");

    window.key("g");
    ASSERT_TRUE(shows(window, "practice list"));
    window.click("practice list");
    ASSERT_TRUE(shows(window, "practice number"));
    window.type_into("practice number", "8");
    window.click("practice own");
    ASSERT_TRUE(readings_are(window, 0));
    EXPECT_EQ(window.value("practice")["number"], 8);
    EXPECT_EQ(window.value("users_unsaved"), true);

    // The head on the bench is the one as described, the fault nowhere in it: same sentence, same pitch, same split.
    const head::Description mine = [&] {
        head::Description out = two_blades();
        out.upper_links[1].error_mm = 0.3;
        return out;
    }();
    const head::Head described = head::Head::build(mine).value();
    const studies::HiddenFault hidden = studies::hide_fault(described, 8).value();
    EXPECT_EQ(window.value("split_deg"), split);

    window.click("read blade 1");
    ASSERT_TRUE(readings_are(window, 1));
    window.key("Prior");  // Page Up: more collective
    window.click("read blade 2");
    ASSERT_TRUE(readings_are(window, 2));
    window.click("read ball 1");
    ASSERT_TRUE(readings_are(window, 3));
    const double collective = window.value("collective");
    EXPECT_GT(collective, 0);
    EXPECT_NEAR(window.value("pitch_deg")[1].get<double>(), described.pose({.collective = collective}, 0)->pitch_deg[1],
                1e-6);
    EXPECT_FALSE(window.value("practice").contains("verdict"));

    // Another sheet shows the open head; the round waits, and the readings with it.
    window.click("parts");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return !r["values"].contains("practice"); }));
    window.key("g");
    ASSERT_TRUE(readings_are(window, 3));

    const std::string key = studies::keys_of(hidden.what()).front();
    scroll_to(window, "name " + key);
    window.click("name " + key);
    ASSERT_TRUE(window.wait_until([&](const auto& r) { return r["values"]["practice"]["chosen"] == key; }));
    scroll_to(window, "practice name");
    window.click("practice name");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["practice"].contains("verdict"); }));
    const std::string verdict = window.value("practice")["verdict"];
    EXPECT_THAT(verdict, HasSubstr("Right: " + studies::fault_words(hidden.what(), hidden.size) + "."));
    EXPECT_THAT(verdict, HasSubstr("You needed 3 readings"));

    window.click("practice leave");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return !r["values"].contains("practice"); }));
    EXPECT_EQ(window.value("path"), path);
    EXPECT_EQ(window.value("unsaved"), true);
    EXPECT_EQ(window.value("split_deg"), split);
    window.key("ctrl+z");  // its undo is still there
    EXPECT_TRUE(says(window, "unsaved", false));
}

TEST_F(PracticeWindow, TodaysFaultIsGivenUpAndAnotherIsHidden) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.key("g");
    ASSERT_TRUE(shows(window, "practice list"));
    window.click("practice list");
    ASSERT_TRUE(shows(window, "practice today"));
    window.click("practice today");
    ASSERT_TRUE(readings_are(window, 0));
    const nlohmann::json number = window.value("practice")["number"];
    EXPECT_GT(number.get<int>(), 20'000'000);
    scroll_to(window, "practice give up");
    window.click("practice give up");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return r["values"]["practice"].contains("verdict"); }));
    EXPECT_THAT(window.value("practice")["verdict"].get<std::string>(), HasSubstr("Given up. Hidden was: "));
    window.click("practice again");
    ASSERT_TRUE(window.wait_until([](const auto& r) { return !r["values"]["practice"].contains("verdict"); }));
    EXPECT_NE(window.value("practice")["number"], number);
    window.key("j");  // keys of lessons do nothing here
    EXPECT_TRUE(window.running());
    EXPECT_TRUE(readings_are(window, 0));
}

}  // namespace
}  // namespace swashwright::testing
