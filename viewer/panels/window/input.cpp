#include "viewer/panels/window/input.h"

#include <backends/imgui_impl_glfw.h>
#include <imgui.h>

#include <set>
#include <utility>

#include "viewer/panels/window/files.h"
#include "viewer/panels/window/shortcuts.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

bool modifies(int key) {
    return key >= GLFW_KEY_LEFT_SHIFT && key <= GLFW_KEY_RIGHT_SUPER;
}

/// A key that does something where others write a character: Home, Enter, or any with Ctrl.
bool acts(int key, int mods) {
    const bool keypad_writes = key >= GLFW_KEY_KP_0 && key < GLFW_KEY_KP_ENTER;
    return (mods & (GLFW_MOD_CONTROL | GLFW_MOD_ALT | GLFW_MOD_SUPER)) != 0 ||
           (key >= GLFW_KEY_ESCAPE && !keypad_writes && !modifies(key));
}

}  // namespace

void Input::attach(GLFWwindow* window) {
    glfwSetWindowUserPointer(window, this);
    glfwSetKeyCallback(window, [](GLFWwindow* w, int key, int scancode, int action, int mods) {
        of(w).events_.push_back({key, scancode, action, mods, 0});
        of(w).news_ = true;
    });
    glfwSetCharCallback(window, [](GLFWwindow* w, unsigned character) {
        of(w).events_.push_back({.character = character});
        of(w).news_ = true;
    });
    glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int button, int action, int mods) {
        ImGui_ImplGlfw_MouseButtonCallback(w, button, action, mods);
        of(w).news_ = true;
    });
    glfwSetScrollCallback(window, [](GLFWwindow* w, double x, double y) {
        ImGui_ImplGlfw_ScrollCallback(w, x, y);
        of(w).news_ = true;
    });
    glfwSetWindowFocusCallback(window, [](GLFWwindow* w, int focused) {
        ImGui_ImplGlfw_WindowFocusCallback(w, focused);
        of(w).news_ = true;
    });
    glfwSetCursorEnterCallback(window, [](GLFWwindow* w, int entered) {
        ImGui_ImplGlfw_CursorEnterCallback(w, entered);
        of(w).news_ = true;
    });
    glfwSetDropCallback(window, [](GLFWwindow* w, int count, const char** paths) {
        of(w).dropped_.assign(paths, paths + count);
        of(w).news_ = true;
    });
    glfwSetCursorPosCallback(window, [](GLFWwindow* w, double, double) { of(w).news_ = true; });
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { of(w).news_ = true; });
    glfwSetWindowContentScaleCallback(window, [](GLFWwindow* w, float, float) { of(w).news_ = true; });
    glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { of(w).news_ = true; });
}

void Input::feed(GLFWwindow* window, State& state) {
    std::set<int> changed;
    bool pressed = false, acted = false;  // a key that is no modifier, and one that acts
    bool written = false;                 // a character
    while (!events_.empty()) {
        const Event event = events_.front();
        const bool character = event.character != 0;
        if (character && acted) return;  // ImGui would write it first
        // At the bench what was typed is taken over as it is drawn, so before a key that goes on.
        const bool goes_on = event.key == GLFW_KEY_SPACE || acts(event.key, event.mods);
        if (state.at_bench.open && written && !character && event.action != GLFW_RELEASE && goes_on) return;
        if (!character && event.action != GLFW_REPEAT) {
            // A modifier holds for the keys pressed before it changes.
            if (changed.contains(event.key) || (modifies(event.key) && pressed)) return;
            if (event.action == GLFW_PRESS && !modifies(event.key)) {
                const bool acting = acts(event.key, event.mods);
                if (acting && acted) return;  // ImGui would see but one of them
                pressed = true;
                acted = acted || acting;
            }
            changed.insert(event.key);
        }
        events_.pop_front();
        if (character) {
            written = true;
            ImGui_ImplGlfw_CharCallback(window, event.character);
            continue;
        }
        // A key that is held goes one step there: it must not tick what nobody has looked at.
        const bool held_there = event.action == GLFW_REPEAT && state.at_bench.open;
        const bool pressed_now = event.action != GLFW_RELEASE && !held_there, typing = ImGui::GetIO().WantTextInput;
        if (pressed_now && press_frame_key(state, event.key, event.mods, typing)) continue;
        ImGui_ImplGlfw_KeyCallback(window, event.key, event.scancode, event.action, event.mods);
        if (pressed_now) press_key(state, event.key, event.mods, typing);
    }
}

void Input::open_dropped(State& state) {
    if (!dropped_.empty()) open_file(state, dropped_.front());
    dropped_.clear();
}

bool Input::take_news() {
    return std::exchange(news_, false);
}

}  // namespace swashwright::panels
