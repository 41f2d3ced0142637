// The real program is killed in the middle of its work. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include <csignal>

#include "driven_window.h"

namespace swashwright::testing {
namespace {

class KilledWindow : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    Screen screen_;
    Folder folder_;
};

TEST_F(KilledWindow, OffersItsWorkAtTheNextStart) {
    const std::string path = folder_.at("mine.toml");
    std::filesystem::copy_file(SWASHWRIGHT_SCENES "/two_blade_600.toml", path);
    constexpr int left_work = 6, none = 0;
    {
        DrivenWindow window(screen_, folder_, path);
        window.type_into("Upper links, link 2, error_mm", "0.3");
        ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"] == true; }));
        pause(1.5);  // it is kept within a second
        ::kill(window.id(), SIGKILL);
    }
    {
        DrivenWindow window(screen_, folder_, path);
        ASSERT_TRUE(window.wait_until([&](const auto& report) { return report["values"]["dialog"] == left_work; }));
        window.click("take up");
        ASSERT_TRUE(window.wait_until([&](const auto& report) { return report["values"]["dialog"] == none; }));
        EXPECT_TRUE(window.value("unsaved").get<bool>());
        EXPECT_GT(window.value("split_deg").get<double>(), 0.3);
        window.key("ctrl+s");
        window.click("do");
        ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"] == false; }));
        pause(1.5);
        ::kill(window.id(), SIGKILL);
    }
    DrivenWindow window(screen_, folder_, path);
    pause(0.5);
    EXPECT_EQ(window.value("dialog"), none);
    EXPECT_GT(window.value("split_deg").get<double>(), 0.3);  // it was saved
}

}  // namespace
}  // namespace swashwright::testing
