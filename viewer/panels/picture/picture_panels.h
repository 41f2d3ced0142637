// The panels around the picture, and what is written over it.
#pragma once

#include <imgui.h>

#include "viewer/panels/base/layout.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/picture/sights.h"

namespace swashwright::panels {

/// One line in plain words, across the top.
void draw_sentence(Screen& screen, const Bench& bench, const Rect& place);
/// Turns, moves, drags and picks, before the picture is drawn.
void handle_picture(Screen& screen, Bench& bench, View& view, const Selection& selection, Sights& sights,
                    const Rect& place);
/// What is written over the shaded picture, which lies below all panels.
void draw_picture(Screen& screen, const Bench& bench, View& view, Selection& selection, Sights& sights,
                  const Rect& place);
/// Which head it is, in which units, and the words by which one looks at it from elsewhere.
void draw_caption(Screen& screen, const Bench& bench, View& view, const Selection& selection, const Rect& place);
/// On the right above the ledger: pitch of each blade, ring, horns.
void draw_live_numbers(const Screen& screen, const Bench& bench, Selection& selection);
/// Pitch of every blade around one turn, `height` pixels high.
void draw_turn_card(Screen& screen, Bench& bench, float height);

}  // namespace swashwright::panels
