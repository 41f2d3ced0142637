// Notes at the pointer: they cover neither what they explain nor what is used next.
#include <gtest/gtest.h>

#include "tests/support/demo_head.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"

namespace swashwright::panels {
namespace {

class Tips : public HeldHead {
protected:
    Tips() : HeldHead(state_of(testing::two_blade_file)) { frame(), frame(); }

    /// The note about a widget once the pointer has rested on it; none where there is none.
    std::optional<ImVec4> tip_of(const std::string& widget) {
        const auto found = state_.screen.report.widgets().find(widget);
        if (found == state_.screen.report.widgets().end()) return std::nullopt;
        ImGuiIO& io = ImGui::GetIO();
        io.MousePos = {(found->second.x + found->second.z) / 2, (found->second.y + found->second.w) / 2};
        io.DeltaTime = 0.1F;
        for (int i = 0; i < 12; ++i) frame();
        const auto tip = state_.screen.report.widgets().find("tip");
        return tip == state_.screen.report.widgets().end() ? std::nullopt : std::optional(tip->second);
    }
};

bool over(const ImVec4& a, const ImVec4& b) {
    return a.x < b.z && b.x < a.z && a.y < b.w && b.y < a.w;
}

TEST_F(Tips, CoverNeitherTheirItemNorWhatLiesBelowIt) {
    int seen = 0;
    for (const char* name : {"undo", "labels", "fit", "view_left", "questions", "centre", "pad", "collective", "turn",
                             "fold tray", "fold column"}) {
        const auto tip = tip_of(name);
        ASSERT_TRUE(tip) << name;
        const auto widgets = state_.screen.report.widgets();
        const ImVec4 item = widgets.at(name);
        EXPECT_FALSE(over(*tip, item)) << name;
        for (const auto& [other, box] : widgets)
            if (other != "tip" && other != "picture" && box.y >= item.w) {
                EXPECT_FALSE(over(*tip, box)) << name << " covers " << other;
            }
        EXPECT_GE(tip->x, 0);
        EXPECT_LE(tip->z, 1280);
        EXPECT_GE(tip->y, 0);
        ++seen;
    }
    EXPECT_EQ(seen, 11);
}

/// What is held is not explained while it moves.
TEST_F(Tips, AreAwayWhileSomethingIsDragged) {
    ASSERT_TRUE(tip_of("collective"));
    ImGui::GetIO().MouseDown[0] = true;
    frame(), frame();
    EXPECT_FALSE(state_.screen.report.widgets().contains("tip"));
    ImGui::GetIO().MouseDown[0] = false;
}

/// What is said of a number that was not taken leaves the fields below it free.
TEST_F(Tips, OfRefusedNumbersLeaveTheFieldsBelowFree) {
    click("elevator_number");
    for (const char c : {'x', 'y'}) ImGui::GetIO().AddInputCharacter(static_cast<unsigned>(c));
    frame();
    click("collective_number");
    frame();
    const auto& widgets = state_.screen.report.widgets();
    ASSERT_TRUE(widgets.contains("not taken"));
    EXPECT_FALSE(over(widgets.at("not taken"), widgets.at("elevator_number")));
    EXPECT_FALSE(over(widgets.at("not taken"), widgets.at("aileron_number")));
}

}  // namespace
}  // namespace swashwright::panels
