// From a scene file's name to a head that can be posed. Used by every console verb and by the window.
#pragma once

#include <string>
#include <tl/expected.hpp>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"

namespace swashwright::document {

struct LoadedHead {
    scene::Scene scene;
    head::Head head;
};

/// Why there is no head.
struct NoHead {
    std::string text;           // whole lines, "FILE:LINE:COLUMN: message", fit for standard error
    bool cannot_close = false;  // the file is sound, but the loop does not close at neutral
};

/// Reads a scene and builds its head. Refuses a scene that cannot be read, that is no head, or whose loop does not
/// close at neutral (unless it need not: `must_close`).
tl::expected<LoadedHead, NoHead> load_head(const std::string& path, bool must_close = true);

/// Why a head cannot be assembled, at the place in the file that is most likely at fault.
scene::Mistakes as_mistakes(const std::string& path, const scene::Scene& scene, const head::Failure& failure);

}  // namespace swashwright::document
