// The window's panels without a screen: ImGui, the fonts, frames, and clicks as ImGui gets them. Nothing is drawn.
#pragma once

#include <gtest/gtest.h>
#include <imgui.h>

#include <string>
#include <utility>

#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

class HeldPanels {
protected:
    explicit HeldPanels(ImVec2 size = {1280, 800}) {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = size;
        for (int key = 0; key < ImGuiKey_COUNT; ++key) io.KeyMap[key] = key + 1;
        apply_style(false, 1);
        fonts_ = load_fonts(*io.Fonts, 1);
        io.Fonts->Build();
    }
    ~HeldPanels() { ImGui::DestroyContext(); }

    void frames(State& state, int count, double seconds = 0.05) const {
        state.screen.fonts = fonts_;
        for (int i = 0; i < count; ++i) {
            ImGui::NewFrame();
            draw_panels(state, ImGui::GetIO().DisplaySize);
            ImGui::Render();
            advance(state, seconds, state.screen.clock + seconds);
        }
    }

    Fonts fonts_;
};

/// With one head open, of which a test types and clicks.
class HeldHead : public ::testing::Test, protected HeldPanels {
protected:
    explicit HeldHead(State state, ImVec2 size = {1280, 800}) : HeldPanels(size), state_(std::move(state)) {}

    void frame() { frames(state_, 1, 0.02); }
    void click(const std::string& widget) {
        ImGuiIO& io = ImGui::GetIO();
        const auto found = state_.screen.report.widgets().find(widget);
        ASSERT_NE(found, state_.screen.report.widgets().end()) << widget;
        io.MousePos = {(found->second.x + found->second.z) / 2, (found->second.y + found->second.w) / 2};
        frame();
        for (const bool down : {true, false}) {
            io.MouseDown[0] = down;
            frame();
        }
        frame();
    }

    State state_;
};

}  // namespace swashwright::panels
