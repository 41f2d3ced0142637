// The dialog for opening and saving, and what all dialogs share.
#pragma once

#include <optional>
#include <string>

#include "viewer/document/document.h"
#include "viewer/panels/base/screen.h"
#include "viewer/panels/files/dialogs.h"

namespace swashwright::panels {

void heading(const Screen& screen, const char* words);
bool confirmed();  // Enter was pressed
bool dismissed();  // Escape was pressed

/// A path to type; below it the scenes used last and what stands in the folder. Gives the path on which `verb` is to
/// act; closes the dialog where that is given up.
std::optional<std::string> file_dialog(Screen& screen, Dialogs& dialogs, const document::Document& document,
                                       const char* title, const char* verb);

}  // namespace swashwright::panels
