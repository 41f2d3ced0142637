// Where the program's own scenes and lessons stand.
#pragma once

#include <filesystem>
#include <string>

namespace swashwright::document {

/// The folder "scenes": beside an installed program (PREFIX/share/swashwright), else in the sources it was built from.
std::filesystem::path scenes_folder();
/// A file that came with the program: not to be written over.
bool came_with_program(const std::string& path);

}  // namespace swashwright::document
