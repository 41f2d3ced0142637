#include "viewer/panels/files/dialogs.h"

#include <fmt/format.h>

#include <filesystem>
#include <system_error>

namespace swashwright::panels {

bool makes_file(Dialog dialog) {
    switch (dialog) {
        case Dialog::save:
        case Dialog::save_gauge:
        case Dialog::save_calliper:
        case Dialog::save_places:
        case Dialog::save_picture:
        case Dialog::sheet:
            return true;
        default:
            return false;
    }
}

const char* ending_of(Dialog dialog) {
    return dialog == Dialog::sheet ? ".pdf" : dialog == Dialog::save_picture ? ".png" : ".toml";
}

bool may_replace(Dialogs& dialogs, const std::string& path, const char* word) {
    std::error_code none;
    if (path == dialogs.replace_path || !std::filesystem::exists(path, none)) return true;
    dialogs.replace_path = path;
    dialogs.error = fmt::format("There is a file of this name. Press {} to replace it, or choose another name.", word);
    return false;
}

}  // namespace swashwright::panels
