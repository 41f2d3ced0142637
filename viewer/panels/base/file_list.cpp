#include "viewer/panels/base/file_list.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

namespace swashwright::panels {

namespace {

namespace fs = std::filesystem;

constexpr int most_entries = 5000;  // looked at, so that a crowded folder does not hold up the window

}  // namespace

std::vector<FileChoice> files_beside(const std::string& path, const char* ending) {
    std::error_code none;
    fs::path folder = fs::absolute(path.empty() ? "." : path, none).lexically_normal();
    if (!fs::is_directory(folder, none)) folder = folder.parent_path();
    if (!folder.has_filename() && folder.has_relative_path()) folder = folder.parent_path();  // a slash at the end
    std::vector<FileChoice> found;
    int looked_at = 0;
    for (fs::directory_iterator entry(folder, fs::directory_options::skip_permission_denied, none), end;
         !none && entry != end && looked_at < most_entries; entry.increment(none), ++looked_at) {
        const std::string name = entry->path().filename().string();
        if (name.starts_with('.')) continue;
        std::error_code unknown;
        if (entry->is_directory(unknown))
            found.push_back({entry->path().string(), name + "/", true});
        else if (entry->path().extension() == ending)
            found.push_back({entry->path().string(), name, false});
    }
    std::ranges::sort(found, [](const FileChoice& a, const FileChoice& b) {
        return a.folder != b.folder ? a.folder : a.words < b.words;
    });
    if (folder.has_relative_path()) found.insert(found.begin(), {folder.parent_path().string(), "folder above", true});
    return found;
}

}  // namespace swashwright::panels
