// A head against itself as it was, in the real window. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include "tests/support/demo_head.h"
#include "tests/window/driven_window.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

class CompareWindow : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    Screen screen_;
    Folder folder_;
};

TEST_F(CompareWindow, ListsWhatDiffersFromTheHeadAsOpenedAndAsSetAside) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const auto said = [](const std::string& words) {
        return [words](const nlohmann::json& report) {
            return report["values"].value("compared", std::string()).find(words) != std::string::npos;
        };
    };
    window.click("compare");
    ASSERT_TRUE(window.wait_until(said("the same")));
    window.click("parts");
    window.type_into("Upper links, link 2, error_mm", "0.3");
    window.click("compare");
    ASSERT_TRUE(window.wait_until(said("One number differs: upper link 2, error")));
    window.click("compare keep");
    ASSERT_TRUE(window.wait_until(said("the same")));
    window.click("Upper links, link 2, error_mm, zero");
    ASSERT_TRUE(window.wait_until(said("blade 2, -0.")));
    window.click("compare file");
    window.type(SWASHWRIGHT_SCENES "/three_blade_700.toml");
    ASSERT_TRUE(window.wait_until([](const nlohmann::json& report) {
        return report["values"].value("compared", std::string()).find("numbers differ") != std::string::npos;
    }));
    EXPECT_EQ(window.value("path"), two_blade_file);
}

}  // namespace
}  // namespace swashwright::testing
