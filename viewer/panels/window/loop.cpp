#include "viewer/panels/window/loop.h"

#include <epoxy/gl.h>
// After epoxy.
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui_internal.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/report_file.h"
#include "viewer/panels/window/stage.h"
#include "viewer/panels/window/state.h"
#include "viewer/panels/window/unsaved.h"
#include "viewer/panels/window/window.h"

namespace swashwright::panels {

namespace {

constexpr double most_frame_seconds = 0.1;  // after a rest the rotor goes on from where it stood
constexpr int frames_to_settle = 3;         // ImGui needs a frame or two to answer an event

void renew_look(State& state) {
    apply_style(state.screen.settings.night, state.screen.scale());
    state.screen.fonts = load_fonts(*ImGui::GetIO().Fonts, state.screen.scale(), state.screen.large_px);
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
    state.screen.look_stale = false;
}

/// The whole framebuffer.
void clear(ImU32 colour) {
    const ImVec4 c = ImGui::ColorConvertU32ToFloat4(colour);
    glClearColor(c.x, c.y, c.z, 1);
    glClear(GL_COLOR_BUFFER_BIT);
}

/// A rectangle of it; pixels, origin at the lower left.
void clear(ImU32 colour, int x, int y, int width, int height) {
    glEnable(GL_SCISSOR_TEST);
    glScissor(x, y, width, height);
    clear(colour);
    glDisable(GL_SCISSOR_TEST);
}

/// True if someone wants to close the window.
bool see_if_closed(GLFWwindow* window, State& state) {
    if (glfwWindowShouldClose(window)) state.close_wanted = true;
    glfwSetWindowShouldClose(window, GLFW_FALSE);
    return state.close_wanted;
}

void close_if_wanted(State& state) {
    if (std::exchange(state.close_wanted, false)) with_work_safe(state, all_work, leave);
}

std::string title(const State& state) {
    const std::string file = std::filesystem::path(state.bench.document().path()).filename().string();
    return fmt::format("{}{} - Swashwright", file, state.bench.document().unsaved() ? " (changed)" : "");
}

}  // namespace

void draw_frame(GLFWwindow* window, State& state, Stage& stage, long frame, bool end_typing) {
    int width = 0, height = 0;
    glfwGetWindowSize(window, &width, &height);
    set_screen_scale(state.screen, screen_scale_of(window));
    limit_text_scale(state.screen, static_cast<float>(width));
    if (state.screen.look_stale) renew_look(state);
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    ImGui::NewFrame();
    if (end_typing) ImGui::ClearActiveID();
    const ImGuiIO& io = ImGui::GetIO();
    const ImVec2 size = io.DisplaySize;
    const float pixels = io.DisplayFramebufferScale.x > 0 ? io.DisplayFramebufferScale.x : 1;
    const auto in_pixels = [&](float length) { return static_cast<int>(length * pixels + 0.5F); };
    const Layout layout = draw_panels(state, size, [&](const Layout& place) {
        stage.draw(state, in_pixels(place.picture.width), in_pixels(place.picture.height), pixels);
    });
    ImGui::Render();

    const Inks ink = state.screen.inks();
    clear(ink.panel);
    clear(ink.paper, in_pixels(layout.tools.x), in_pixels(size.y - layout.tools.bottom()),
          in_pixels(layout.tools.width), in_pixels(layout.tools.height));
    stage.copy_to(in_pixels(layout.picture.x), in_pixels(size.y - layout.picture.bottom()));
    glViewport(0, 0, in_pixels(size.x), in_pixels(size.y));
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(window);
    write_report(state, frame);
}

Loop::Loop(GLFWwindow* window, State& state, Stage& stage)
    : window_(window), state_(state), stage_(stage), settle_(frames_to_settle), last_(glfwGetTime()) {
    input_.attach(window);
}

bool Loop::busy() const {
    return moving(state_) || settle_ > 0 || input_.waiting() || ImGui::IsAnyMouseDown();
}

double Loop::patience() const {
    const bool blinking = ImGui::GetIO().WantTextInput;
    return working(state_)                ? 0.05
           : state_.screen.frame_wanted   ? 0.2
           : blinking                     ? 0.4
           : state_.recovery->waiting()   ? 0.3
           : state_.screen.notice.empty() ? 30.0
                                          : 1.0;
}

void Loop::frame() {
    if (see_if_closed(window_, state_) || input_.take_news() || input_.waiting()) settle_ = frames_to_settle;
    const double now = glfwGetTime();
    advance(state_, std::min(now - last_, most_frame_seconds), now);
    last_ = now;
    input_.feed(window_, state_);
    const bool closes = state_.close_wanted;
    draw_frame(window_, state_, stage_, frame_++, state_.save_wanted || closes || input_.has_dropped());
    if (closes) close_if_wanted(state_);
    input_.open_dropped(state_);
    if (settle_ > 0) --settle_;
    if (std::exchange(state_.screen.settle, false)) settle_ = frames_to_settle;
    if (std::string wanted = title(state_); wanted != shown_title_) {
        glfwSetWindowTitle(window_, wanted.c_str());
        shown_title_ = std::move(wanted);
    }
}

}  // namespace swashwright::panels
