// Writes the build sheet in the background, so that the window goes on moving; in a page it is handed to the browser's
// print instead (viewer/browser).
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "kinematics/scene/scene.h"

namespace swashwright::sheet {
enum class Paper;
}

namespace swashwright::panels {

class SheetWriter {
public:
    /// The scene as it is now, its build sheet or the card for the field box; stops what is being written. `path` is of
    /// the file, where it becomes one.
    void start(const scene::Scene& scene, const std::string& path, sheet::Paper paper, bool card = false);
    bool running() const { return work_ != nullptr; }
    /// What came of it, once. Call once a frame.
    std::optional<std::string> poll();

private:
    struct Work;
    std::shared_ptr<Work> work_;
};

}  // namespace swashwright::panels
