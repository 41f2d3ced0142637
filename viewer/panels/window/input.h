// Keys from GLFW to ImGui and to the shortcuts. ImGui 1.86 looks at keys once a frame, so a tap that is shorter than a
// frame is lost, and so is Ctrl+A whose Ctrl is let go in the frame of the A. Here each key changes at most once a
// frame, keys that act keep their order among modifiers and characters, and the rest waits for the next.
#pragma once

#include <GLFW/glfw3.h>

#include <deque>
#include <string>
#include <vector>

namespace swashwright::panels {

struct State;

class Input {
public:
    /// Takes over the window's callbacks; ImGui's GLFW backend must be initialised without its own.
    void attach(GLFWwindow* window);
    /// Hands keys on, in order; call before ImGui's new frame.
    void feed(GLFWwindow* window, State& state);
    /// Opens a file that was let go over the window; call behind a frame in which typing was ended.
    void open_dropped(State& state);
    void drop(const std::string& path) { dropped_.push_back(path); }
    void wake() { news_ = true; }
    bool has_dropped() const { return !dropped_.empty(); }
    /// True if something has happened since the last call.
    bool take_news();
    bool news() const { return news_; }  // likewise, and it stays
    bool waiting() const { return !events_.empty() || !dropped_.empty(); }

private:
    struct Event {
        int key = 0, scancode = 0, action = 0, mods = 0;
        unsigned character = 0;  // not 0: a character typed, the rest is unused
    };
    std::deque<Event> events_;
    std::vector<std::string> dropped_;  // files let go over the window
    bool news_ = true;

    static Input& of(GLFWwindow* window) { return *static_cast<Input*>(glfwGetWindowUserPointer(window)); }
};

}  // namespace swashwright::panels
