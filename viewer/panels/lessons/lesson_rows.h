// Rows of the sheet of lessons that can be pressed, each with a place for its mark.
#pragma once

#include <imgui.h>

#include <string>

#include "viewer/panels/base/screen.h"

namespace swashwright::panels {

enum class Mark { none, tick, cross };

/// Drawn with lines: marks must not hang on colour or on what a font has.
void draw_mark(ImDrawList& list, ImVec2 centre, Mark mark, ImU32 colour, float scale);

/// A row as wide as the sheet that can be pressed: a mark's place on the left, then words.
bool row_button(Screen& screen, const std::string& id, const std::string& words, Mark mark);

}  // namespace swashwright::panels
