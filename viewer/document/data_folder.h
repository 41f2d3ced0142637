// Where the program's own scenes and lessons stand.
#pragma once

#include <filesystem>

namespace swashwright::document {

/// The folder "scenes": beside an installed program (PREFIX/share/swashwright), else in the sources it was built from.
std::filesystem::path scenes_folder();

}  // namespace swashwright::document
