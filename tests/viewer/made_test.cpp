// What a press has set stays in sight, with its way back. Nothing is drawn.
#include "viewer/panels/bench/made.h"

#include <gtest/gtest.h>
#include <imgui_internal.h>

#include <chrono>
#include <thread>

#include "tests/support/demo_head.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"

namespace swashwright::panels {
namespace {

class WhatWasMade : public HeldHead {
protected:
    WhatWasMade() : HeldHead(state_of(testing::two_blade_file)) {
        scene::Scene next = state_.bench.document().scene();
        next.head.upper_links[1].error_mm = 0.3;
        EXPECT_TRUE(try_edit(state_.screen, state_.bench, std::move(next), "error"));
        state_.sheet = Sheet::questions;
        for (Question& question : state_.questions) question.open = question.key == "tracking";
    }
    /// Where it is, or null.
    const ImVec4* widget(const std::string& name) const {
        const auto found = state_.screen.report.widgets().find(name);
        return found == state_.screen.report.widgets().end() ? nullptr : &found->second;
    }
    /// The window that scrolls there.
    static ImGuiWindow* window_at(const ImVec4& place) {
        ImGuiWindow* out = nullptr;
        for (ImGuiWindow* window : ImGui::GetCurrentContext()->Windows)
            if (window->ScrollMax.y > 0 && window->Rect().Contains(ImVec2(place.x, place.y))) out = window;
        return out;
    }
};

TEST_F(WhatWasMade, ComesIntoSightWithItsUndo) {
    for (int tries = 0; tries < 500 && !widget("tracking proposal"); ++tries) {
        frame();
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    ASSERT_TRUE(widget("tracking proposal"));
    for (int i = 0; i < 20; ++i) frame();
    // Scrolled so far that the button is the first in sight: what it says when pressed comes above it.
    ImGuiWindow* window = window_at(*widget("tracking proposal"));
    ASSERT_TRUE(window);
    window->ScrollMax.y = std::max(window->ScrollMax.y, 2000.0F);
    ImGui::SetScrollY(window, window->Scroll.y + widget("tracking proposal")->y - window->InnerRect.Min.y - 1);
    for (int i = 0; i < 3; ++i) frame();
    ASSERT_TRUE(widget("tracking proposal"));
    ASSERT_NO_FATAL_FAILURE(click("tracking proposal"));
    for (int i = 0; i < 6; ++i) frame();
    ASSERT_TRUE(widget("tracking undo"));
    EXPECT_TRUE(widget("tracking made"));
    const ImVec4 undo = *widget("tracking undo");
    EXPECT_GE(undo.w - undo.y, ImGui::GetFrameHeight() - 1) << "cut off";
}

}  // namespace
}  // namespace swashwright::panels
