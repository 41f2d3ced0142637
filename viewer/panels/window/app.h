// The window.
#pragma once

#include <string>

namespace swashwright::panels {

struct WindowOptions {
    std::string scene_path;   // empty: the first demo head
    std::string report_path;  // empty: no report
    long frames = 0;  // not 0: turn the rotor for so many frames as fast as they can be drawn, print how fast that
                      // was and by how much the heap grew, and leave
};

/// Opens the window and runs until it is closed. Exit code: 0; 1 where no window can be opened; 2 for a scene that
/// cannot be read. The reason is on standard error.
int run_window(const WindowOptions& options);

}  // namespace swashwright::panels
