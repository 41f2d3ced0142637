// The files that a scene is read from.
#pragma once

#include <string>
#include <vector>

#include "kinematics/scene/scene.h"

namespace swashwright::scene {

/// Where the mesh of a solid is looked for: its name is taken from the folder of the scene file `path`.
std::string mesh_path(const std::string& path, const head::Solid& solid);
/// Reads the meshes that a scene names beside `path`, and tells which cannot be read.
std::vector<Mistake> read_meshes(Scene& scene, const std::string& path);
/// Where a file is looked for that `path` names: from the folder of `path`.
std::string beside(const std::string& path, const std::string& name);
/// The scene file itself and the meshes that the scene names.
std::vector<std::string> files_of(const std::string& path, const Scene& scene);

}  // namespace swashwright::scene
