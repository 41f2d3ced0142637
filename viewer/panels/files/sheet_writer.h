// Writes the build sheet in the background, so that the window goes on moving.
#pragma once

#include <atomic>
#include <memory>
#include <optional>
#include <string>
#include <thread>

#include "kinematics/scene/scene.h"

namespace swashwright::sheet {
enum class Paper;
}

namespace swashwright::panels {

class SheetWriter {
public:
    /// The scene as it is now; stops what is being written.
    void start(const scene::Scene& scene, const std::string& path, sheet::Paper paper);
    bool running() const { return work_ != nullptr; }
    /// What came of it, once. Call once a frame.
    std::optional<std::string> poll();

private:
    struct Work {
        std::atomic<bool> done = false;
        std::string said;
    };
    std::shared_ptr<Work> work_;
    std::jthread thread_;  // last: it is stopped and joined first
};

}  // namespace swashwright::panels
