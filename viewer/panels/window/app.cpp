#include "viewer/panels/window/app.h"

#include <epoxy/gl.h>
// After epoxy.
#include <GLFW/glfw3.h>
#include <fmt/format.h>
#include <imgui.h>
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
#include "viewer/panels/window/loop.h"
#include "viewer/panels/window/stage.h"
#include "viewer/panels/window/state.h"
#include "viewer/panels/window/window.h"

namespace swashwright::panels {

namespace {

constexpr double least_frame_seconds = 1 / 60.0;  // where nothing else holds the pace

/// The head of the tour in README.md; empty where the scenes are missing.
std::string first_demo() {
    std::error_code none;
    const std::filesystem::path scene = document::scenes_folder() / "two_blade_600.toml";
    return std::filesystem::exists(scene, none) ? scene.string() : "";
}

/// Waits for something to happen; returns at once while something moves.
void wait_for_events(const Loop& loop) {
    if (!loop.busy()) return glfwWaitEventsTimeout(loop.patience());
    const double left = least_frame_seconds - (glfwGetTime() - loop.last());
    if (left > 0) std::this_thread::sleep_for(std::chrono::duration<double>(left));
    glfwPollEvents();
}

void run_until_left(GLFWwindow* window, State& state, Stage& stage) {
    Loop loop(window, state, stage);
    glfwSwapInterval(1);
    while (!state.leave) {
        wait_for_events(loop);
        loop.frame();
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
