// What can be folded away so that the picture has the room: the tray, to a line, and the column.
#pragma once

#include <imgui.h>

#include "viewer/panels/base/layout.h"

namespace swashwright::panels {

struct State;

struct Folds {
    bool column = false;   // folded away
    bool cramped = false;  // a drawing and its field would not both be in sight beside the open tray
    bool opened = false;   // the tray was opened all the same
};

/// Sees whether the sheet that is shown leaves too little room in a window of this size; call once a frame.
void follow_folds(State& state, ImVec2 window);
/// As the user has it; by itself too while it is cramped.
bool tray_folded(const State& state);
void toggle_tray(State& state);
void toggle_column(State& state);
/// Both buttons.
void draw_folds(State& state, const Rect& place);

}  // namespace swashwright::panels
