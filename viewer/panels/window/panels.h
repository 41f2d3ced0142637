// The panels of the window. Each draws itself into its rectangle, reads the live values and edits the state.
#pragma once

#include <imgui.h>

#include "viewer/panels/base/layout.h"

namespace swashwright::panels {

struct State;

/// All of them, inside an ImGui frame, and the live values brought up to date. Gives where they stand.
Layout draw_panels(State& state, ImVec2 window);

/// One line in plain words, across the top.
void draw_sentence(State& state, const Rect& place);
/// Opening, saving, undo, what the picture shows, text and units. Leaves the height that it needs in the state.
void draw_tools(State& state, const Rect& place);
/// What is written over the shaded picture, which lies below all panels; turns, moves and picks.
void draw_picture(State& state, const Rect& place);
/// Which head it is, in which units, and the words by which one looks at it from elsewhere.
void draw_caption(State& state, const Rect& place);
/// Cyclic pad, collective strip, azimuth ring.
void draw_tray(State& state, const Rect& place);
/// On the right: live numbers, ledger, cards.
void draw_column(State& state, const Rect& place);
void draw_live_numbers(State& state);
void draw_ledger(State& state);
/// The numbers of the part that was clicked, to be changed beside an answer.
void draw_part_numbers(State& state);
/// The questions that the studies answer, in place of the ledger.
void draw_questions(State& state);
/// Pitch-gauge and ring-height readings as a table that is typed into.
void draw_readings(State& state);
/// The list of lessons, or the open one.
void draw_lessons(State& state);
/// A new head from calliper readings, step by step.
void draw_measure(State& state);
/// Against another head, or against itself as it was.
void draw_compare(State& state);
/// Pitch of every blade around one turn, `height` pixels high.
void draw_turn_card(State& state, float height);
/// The dialog that is open, if any.
void draw_dialogs(State& state, ImVec2 window);

/// Begins a panel without frame, ground or scrolling; end with ImGui::End(). Grounds are cleared by the window, which
/// costs a fraction of what ImGui's filled rectangles do where there is no graphics card.
void begin_panel(const char* name, const Rect& place, bool scrolls = false);

}  // namespace swashwright::panels
