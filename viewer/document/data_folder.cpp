#include "viewer/document/data_folder.h"

#include <algorithm>
#include <system_error>

namespace swashwright::document {

std::filesystem::path scenes_folder() {
    std::error_code none;
    const auto program = std::filesystem::read_symlink("/proc/self/exe", none);
    auto installed = program.parent_path().parent_path() / SWASHWRIGHT_DATA "/scenes";
    if (!program.empty() && std::filesystem::is_directory(installed, none)) return installed;
    return SWASHWRIGHT_SOURCE_DIR "/scenes";
}

bool came_with_program(const std::string& path) {
    std::error_code none;
    const auto ours = std::filesystem::weakly_canonical(scenes_folder(), none);
    const auto file = std::filesystem::weakly_canonical(path, none);
    return !ours.empty() && std::mismatch(ours.begin(), ours.end(), file.begin(), file.end()).first == ours.end();
}

}  // namespace swashwright::document
