// Heads to begin with: of each layout a complete scene in ordinary proportions that says it is invented.
#pragma once

#include <string>
#include <vector>

#include "kinematics/scene/scene.h"

namespace swashwright::document {

struct Layout {
    std::string words;                           // "Three servos, 120 deg apart"
    std::string what;                            // more of it, as a line
    std::string file;                            // of the demo that it is made from, in `scenes_folder`
    std::vector<double> ball_azimuths_deg = {};  // where the servos' balls go; empty: where the demo has them
};
const std::vector<Layout>& layouts();

/// The scene of a layout, with a name of its own; fails as `scene::load` does.
scene::Result<scene::Scene> scene_of(const Layout& layout);

}  // namespace swashwright::document
