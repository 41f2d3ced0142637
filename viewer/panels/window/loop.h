// The window at work: one frame after another. What calls for the next one is not the same on a desktop (app.cpp) and
// in a page (viewer/browser/page.cpp).
#pragma once

#include <string>

#include "viewer/panels/window/input.h"

namespace swashwright::panels {

class Stage;
struct State;

/// Draws one frame into the window. `end_typing`: the field that is being typed in gives its number up.
void draw_frame(GLFWwindow* window, State& state, Stage& stage, long frame, bool end_typing = false);

class Loop {
public:
    /// Takes over the window's callbacks. All three outlive the loop.
    Loop(GLFWwindow* window, State& state, Stage& stage);
    Loop(const Loop&) = delete;
    Loop& operator=(const Loop&) = delete;

    /// Something moves, or has just happened: the next frame is wanted as soon as may be.
    bool busy() const;
    /// Else how long it may be left out if nothing happens, seconds.
    double patience() const;
    /// When the last frame began, on GLFW's clock.
    double last() const { return last_; }
    /// Something has happened since the last frame.
    bool news() const { return input_.news(); }
    void frame();
    /// As if it had been let go over the window.
    void hand_in(const std::string& path) { input_.drop(path); }
    /// As if something had happened.
    void wake() { input_.wake(); }

private:
    GLFWwindow* window_;
    State& state_;
    Stage& stage_;
    Input input_;
    int settle_;
    long frame_ = 1;
    double last_;
    std::string shown_title_;
};

}  // namespace swashwright::panels
