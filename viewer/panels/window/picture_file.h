// The picture as it stands in the window, as a PNG file.
#pragma once

#include <string>

namespace swashwright::panels {

struct State;

void ask_for_picture(State& state);
/// What the dialog does; asks once more before it replaces a file. Needs the window's OpenGL context.
void save_picture_as(State& state, const std::string& path);

}  // namespace swashwright::panels
