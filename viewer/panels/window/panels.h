// The whole window: which panels stand where, and in which order they are drawn.
#pragma once

#include <imgui.h>

#include <functional>

#include "viewer/panels/base/layout.h"

namespace swashwright::panels {

struct State;

/// All panels, inside an ImGui frame, and the live values brought up to date. Gives where they stand. `see` draws the
/// picture of the head and finds what is in sight in it, once head, pose and camera of this frame are settled and
/// before anything is written over the picture; without it the words go by what was in sight before.
Layout draw_panels(State& state, ImVec2 window, const std::function<void(const Layout&)>& see = {});

/// Opening, saving, undo, what the picture shows, text and units. Leaves the height that it needs in the state.
void draw_tools(State& state, const Rect& place);
/// On the right: live numbers, the sheet that is shown, a card.
void draw_column(State& state, const Rect& place);
/// The dialog that is open, if any.
void draw_dialogs(State& state, ImVec2 window);

}  // namespace swashwright::panels
