// What a folder offers to someone who looks for a file. No drawing.
#pragma once

#include <string>
#include <vector>

namespace swashwright::panels {

struct FileChoice {
    std::string path;
    std::string words;
    bool folder = false;
};

/// The folder above, the folders and the files of this ending that stand beside `path`, or in it if it is a folder.
/// Hidden ones are left out. A folder that cannot be read gives the one above only.
std::vector<FileChoice> files_beside(const std::string& path, const char* ending = ".toml");

}  // namespace swashwright::panels
