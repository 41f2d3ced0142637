#include "viewer/panels/window/app.h"

#include <epoxy/gl.h>
// After epoxy.
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui_internal.h>
#include <malloc.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <climits>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <thread>
#include <utility>

#include "viewer/document/data_folder.h"
#include "viewer/panels/window/input.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/report_file.h"
#include "viewer/panels/window/stage.h"
#include "viewer/panels/window/state.h"
#include "viewer/panels/window/window.h"

namespace swashwright::panels {

namespace {

constexpr double most_frame_seconds = 0.1;        // after a rest the rotor goes on from where it stood
constexpr double least_frame_seconds = 1 / 60.0;  // where nothing else holds the pace
constexpr int frames_to_settle = 3;               // ImGui needs a frame or two to answer an event

/// The head of the tour in README.md; empty where the scenes are missing.
std::string first_demo() {
    std::error_code none;
    const std::filesystem::path scene = document::scenes_folder() / "two_blade_600.toml";
    return std::filesystem::exists(scene, none) ? scene.string() : "";
}

void renew_look(State& state) {
    apply_style(state.screen.settings.night, state.screen.scale());
    state.screen.fonts = load_fonts(*ImGui::GetIO().Fonts, state.screen.scale());
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

/// `end_typing`: the field that is being typed in gives its number up.
void draw_frame(GLFWwindow* window, State& state, Stage& stage, long frame, bool end_typing = false) {
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

/// Waits for something to happen; returns at once while something moves.
void wait_for_events(const State& state, bool busy, double last_frame) {
    if (!busy) {
        const bool blinking = ImGui::GetIO().WantTextInput;
        glfwWaitEventsTimeout(working(state)                ? 0.05
                              : state.screen.frame_wanted   ? 0.2
                              : blinking                    ? 0.4
                              : state.recovery->waiting()   ? 0.3
                              : state.screen.notice.empty() ? 30.0
                                                            : 1.0);
        return;
    }
    const double left = least_frame_seconds - (glfwGetTime() - last_frame);
    if (left > 0) std::this_thread::sleep_for(std::chrono::duration<double>(left));
    glfwPollEvents();
}

/// True if someone wants to close the window.
bool see_if_closed(GLFWwindow* window, State& state) {
    if (glfwWindowShouldClose(window)) state.close_wanted = true;
    glfwSetWindowShouldClose(window, GLFW_FALSE);
    return state.close_wanted;
}

void close_if_wanted(State& state) {
    if (std::exchange(state.close_wanted, false)) with_work_safe(state, all_work, [](State& s) { s.leave = true; });
}

std::string title(const State& state) {
    const std::string file = std::filesystem::path(state.bench.document().path()).filename().string();
    return fmt::format("{}{} - Swashwright", file, state.bench.document().unsaved() ? " (changed)" : "");
}

void run_until_left(GLFWwindow* window, State& state, Stage& stage) {
    Input input;
    input.attach(window);
    glfwSwapInterval(1);
    int settle = frames_to_settle;
    double last = glfwGetTime();
    std::string shown_title;
    for (long frame = 1; !state.leave;) {
        const bool moves = moving(state);
        const bool busy = moves || settle > 0 || input.waiting() || ImGui::IsAnyMouseDown();
        wait_for_events(state, busy, last);
        if (see_if_closed(window, state) || input.take_news() || input.waiting()) settle = frames_to_settle;
        const double now = glfwGetTime();
        advance(state, std::min(now - last, most_frame_seconds), now);
        last = now;
        input.feed(window, state);
        const bool closes = state.close_wanted;
        draw_frame(window, state, stage, frame++, state.save_wanted || closes || input.has_dropped());
        if (closes) close_if_wanted(state);
        input.open_dropped(state);
        if (settle > 0) --settle;
        if (std::exchange(state.screen.settle, false)) settle = frames_to_settle;
        if (std::string wanted = title(state); wanted != shown_title) {
            glfwSetWindowTitle(window, wanted.c_str());
            shown_title = std::move(wanted);
        }
    }
}

/// For the next start.
void remember_size(State& state, GLFWwindow* window) {
    int width = 0, height = 0;
    glfwGetWindowSize(window, &width, &height);
    // Remembered as on a usual monitor: the next one may be another.
    width = static_cast<int>(std::lround(static_cast<float>(width) / state.screen.monitor_scale));
    height = static_cast<int>(std::lround(static_cast<float>(height) / state.screen.monitor_scale));
    if (glfwGetWindowAttrib(window, GLFW_MAXIMIZED) ||
        (width == state.screen.settings.width && height == state.screen.settings.height))
        return;
    state.screen.settings.width = width;
    state.screen.settings.height = height;
    remember_settings(state.screen);
}

long long heap_in_use() {
    return static_cast<long long>(mallinfo2().uordblks);
}

/// A software driver takes and gives back megabytes at every frame; giving them back to the system as often costs a
/// tenth of the frame and more.
void keep_memory() {
    mallopt(M_TRIM_THRESHOLD, 256 << 20);
    mallopt(M_MMAP_THRESHOLD, 32 << 20);
    mallopt(M_TOP_PAD, 64 << 20);
}

/// Turns the rotor for a number of frames as fast as they can be drawn. A software driver compiles for each new kind of
/// picture, so the heap grows in steps now and then, and it holds a block from one frame to the next or not: growth
/// that is ours raises the lowest heap of every quarter over that of the quarter before.
void run_frames(GLFWwindow* window, State& state, Stage& stage, long frames) {
    constexpr long warm_up = 200;
    Input input;
    input.attach(window);
    glfwSwapInterval(0);
    state.dialogs.open = Dialog::none;
    state.bench.controls.turning = true;
    state.bench.controls.turn_rpm = 30;  // three turns while warming up
    constexpr int quarters = 4;
    std::array<long long, quarters> lowest;
    lowest.fill(LLONG_MAX);
    long long heap = 0;
    double start = 0;
    for (long frame = 1; frame <= warm_up + frames; ++frame) {
        glfwPollEvents();
        advance(state, 1 / 30.0, glfwGetTime());
        draw_frame(window, state, stage, frame);
        if (frame == 1) fmt::print("first picture {:.2f} s after the window was asked for\n", glfwGetTime());
        if (frame > warm_up) {
            long long& low = lowest[static_cast<std::size_t>((frame - warm_up - 1) * quarters / frames)];
            low = std::min(low, heap_in_use());
        }
        if (frame != warm_up) continue;
        heap = heap_in_use();
        start = glfwGetTime();
    }
    glFinish();
    long long steady = LLONG_MAX;
    for (std::size_t q = 1; q < quarters; ++q) steady = std::min(steady, lowest[q] - lowest[q - 1]);
    fmt::print("{} frames, {:.1f} frames a second, heap grew by {} bytes, in the quietest quarter by {}\n", frames,
               static_cast<double>(frames) / (glfwGetTime() - start), heap_in_use() - heap, steady);
}

}  // namespace

int run_window(const WindowOptions& options) {
    keep_memory();
    const std::string path = options.scene_path.empty() ? first_demo() : options.scene_path;
    auto document = document::Document::open(path);
    if (!document) {
        fmt::print(stderr, "{}\n", document.error().text());
        return 2;
    }
    const document::Settings settings = document::load_settings(document::settings_path());
    auto window = Window::open(settings.width, settings.height, path);
    if (!window) {
        fmt::print(stderr, "swashwright: {}\n", window.error());
        return 1;
    }
    const bool at_work = options.frames == 0;
    State state = make_state(std::move(*document), document::settings_path(), options.report_path,
                             at_work ? document::recovery_folder() : std::string());
    Stage stage;
    if (options.frames > 0)
        run_frames(window->handle(), state, stage, options.frames);
    else
        run_until_left(window->handle(), state, stage);
    if (at_work) remember_size(state, window->handle());
    return 0;
}

}  // namespace swashwright::panels
