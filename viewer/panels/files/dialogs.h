// The dialog that is open and what has been put into it.
#pragma once

#include <string>
#include <vector>

#include "viewer/panels/base/file_list.h"

namespace swashwright::panels {

enum class Dialog {
    none,
    safety,
    about,
    open,
    save,
    unsaved,
    left_work,
    compare,
    sheet,
    read,
    save_gauge,
    save_calliper,
    new_head,
    save_places,
    save_picture
};

struct Dialogs {
    Dialog open = Dialog::none;
    bool opening = false;  // it was asked for and is not drawn yet
    std::string path;
    std::vector<FileChoice> choices;  // what stands in the same folder
    std::string error;
    std::size_t chosen = 0;    // of the layouts for a new head
    int times = 1;             // a picture so many times as large as in the window
    bool card = false;         // of a build sheet: the card for the field box in its place
    std::string replace_path;  // an existing file that may be replaced: the user has been told
};

/// It writes a file of the name that is typed.
bool makes_file(Dialog dialog);
/// Of the files that it reads or writes: ".toml", ".pdf", ".png".
const char* ending_of(Dialog dialog);
/// What a dialog writes may take the place of a file only when it is asked for twice; `word`: what is pressed.
bool may_replace(Dialogs& dialogs, const std::string& path, const char* word);

}  // namespace swashwright::panels
