#include "viewer/document/data_folder.h"

#include <system_error>

namespace swashwright::document {

std::filesystem::path scenes_folder() {
    std::error_code none;
    const auto program = std::filesystem::read_symlink("/proc/self/exe", none);
    auto installed = program.parent_path().parent_path() / SWASHWRIGHT_DATA "/scenes";
    if (!program.empty() && std::filesystem::is_directory(installed, none)) return installed;
    return SWASHWRIGHT_SOURCE_DIR "/scenes";
}

}  // namespace swashwright::document
