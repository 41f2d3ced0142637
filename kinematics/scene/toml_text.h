// Text to a TOML table, guarded, and values to TOML text. Internal to kinematics/scene.
#pragma once

#include <toml++/toml.h>

#include <span>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "kinematics/scene/scene.h"

namespace swashwright::scene {

inline constexpr std::size_t largest_file = 256 * 1024;  // bytes; a scene needs a few thousand

/// A file's bytes, cut just beyond `largest_file`. `expected` says what it should be: "a scene file".
Result<std::string> read_file(const std::string& path, std::string_view expected);

/// Fails with the first thing that is not TOML; the parser cannot go on behind it.
tl::expected<toml::table, Mistake> read_toml(std::string_view text);

/// The shortest text that reads back as the same double and that TOML takes for a float.
std::string toml_number(double value);
std::string toml_list(std::span<const double> numbers);
/// In quotation marks.
std::string toml_string(std::string_view text);

}  // namespace swashwright::scene
