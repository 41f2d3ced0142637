// The dialog for opening and saving, and what all dialogs share.
#pragma once

#include <string>

namespace swashwright::panels {

struct State;

void heading(State& state, const char* words);
bool confirmed();  // Enter was pressed
bool dismissed();  // Escape was pressed

/// A path to type; below it the scenes used last and what stands in the folder. `act` does what `verb` says.
void file_dialog(State& state, const char* title, const char* verb, void (*act)(State&, const std::string&));

}  // namespace swashwright::panels
