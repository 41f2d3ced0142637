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

struct State;

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

/// Asks where to write it.
void ask_for_sheet(State& state);
/// On the paper of the settings; asks once more before it replaces a file.
void write_sheet(State& state, const std::string& path);

}  // namespace swashwright::panels
