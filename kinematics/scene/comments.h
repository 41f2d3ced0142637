// Comments of a scene file, carried over when it is written anew.
#pragma once

#include <string>
#include <string_view>

#include "kinematics/scene/scene.h"

namespace swashwright::scene {

/// `written`, with the comments of `before` at the same tables and keys: those beside a line and those above it. The
/// comments of a line that is no longer there go with it. Both texts are TOML; where `before` is none, `written`
/// comes back as it is.
std::string with_comments_of(std::string_view before, const std::string& written);

/// The scene as text that takes the place of a file, with the comments of that file, where it can be read.
std::string write_over(const std::string& path, const Scene& scene);

}  // namespace swashwright::scene
