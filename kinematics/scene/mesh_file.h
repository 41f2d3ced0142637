// A surface of triangles from a file. Internal to kinematics/scene.
#pragma once

#include <string>
#include <tl/expected.hpp>

#include "kinematics/head/description.h"

namespace swashwright::scene {

inline constexpr int most_triangles = 200'000;

/// From an STL file, text or binary; its numbers are taken as mm. Fails with one sentence.
tl::expected<head::Triangles, std::string> read_mesh(const std::string& path);

}  // namespace swashwright::scene
