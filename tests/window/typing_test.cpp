// Typing and waiting in the real window: keys that come faster than frames, and answers that come while it rests. Needs
// Xvfb and xdotool.
#include <gmock/gmock.h>

#include "tests/support/demo_head.h"
#include "tests/window/driven_window.h"

namespace swashwright::testing {
namespace {

class TypingWindow : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    Screen screen_;
    Folder folder_;
};

TEST_F(TypingWindow, KeysFasterThanFramesKeepTheirOrder) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const auto becomes = [&](double wanted, std::vector<std::string> keys) {
        window.click("collective_number");
        window.keys(std::move(keys));
        EXPECT_TRUE(window.wait_until([&](const auto& report) {
            return std::abs(report["values"]["collective"].template get<double>() - wanted) < 1e-9;
        })) << wanted;
    };
    for (int round = 0; round < 4; ++round) {
        becomes(0.2, {"0", "period", "5", "ctrl+a", "ctrl+x", "0", "period", "2", "Return"});
        becomes(0.4, {"0", "period", "7", "shift+Home", "0", "period", "4", "Return"});
        becomes(0.1, {"0", "period", "2", "5", "Home", "shift+End", "0", "period", "1", "Return"});
        becomes(0.3, {"0", "period", "3", "ctrl+a", "ctrl+c", "BackSpace", "ctrl+v", "Return"});
        becomes(0.6, {"0", "period", "6", "5", "BackSpace", "Return"});
    }
    window.click("collective_number");
    window.keys({"0", "period", "9", "Escape"});
    pause(0.5);
    EXPECT_EQ(window.value("collective").get<double>(), 0.6);
}

TEST_F(TypingWindow, AnAnswerThatComesWhileTheWindowRestsIsShown) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.click("questions");
    window.click("question tolerance");
    for (int tries = 0; tries < 12; ++tries) {
        if (tries > 0) window.wheel("collective", "4");
        EXPECT_TRUE(window.wait_until([&](const auto& report) {
            const auto& values = report["values"];
            const bool asked = std::abs(values["collective"].template get<double>() - 0.02 * tries) < 1e-9;
            return asked && values.contains("answers") && report["widgets"].contains("answer tolerance") &&
                   !report["widgets"].contains("tolerance stop");
        })) << tries;
    }
}

}  // namespace
}  // namespace swashwright::testing
