// The files that a scene is read from.
#pragma once

#include <string>
#include <vector>

#include "kinematics/scene/scene.h"

namespace swashwright::scene {

/// Where the mesh of a solid is looked for: its name is taken from the folder of the scene file `path`.
std::string mesh_path(const std::string& path, const head::Solid& solid);
/// The scene file itself and the meshes that the scene names.
std::vector<std::string> files_of(const std::string& path, const Scene& scene);

}  // namespace swashwright::scene
