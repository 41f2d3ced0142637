// The command line: a verb that prints, or no verb and the window.
#pragma once

#include <functional>
#include <string>

namespace swashwright::console {

/// What the command line says about the window.
struct WindowWish {
    std::string scene;   // path; empty if none was named
    std::string report;  // path; empty if no report is wanted
    long frames = 0;     // 0: until the window is closed
};

/// Runs the program; gives its exit code. `open_window` is called where no verb is named.
int run(int argc, const char* const* argv, const std::function<int(const WindowWish&)>& open_window);

}  // namespace swashwright::console
