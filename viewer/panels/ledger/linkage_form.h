// Putting a linkage together: levers, sliders, balls, links and pins come and go, and links are made as long as their
// balls stand apart. Meanwhile parts may hang free; the screen says so.
#pragma once

#include "viewer/panels/ledger/part_form.h"

namespace swashwright::panels {

/// Below the fields of a part: what can be added to it, and the part itself taken away.
void draw_part_changes(Screen& screen, Bench& bench, View& view, Selection& selection, const draw::Part& part);
/// The last section: new parts; fixed balls and pins, which have no rows of their own to unfold from. Gives the part
/// that was added, if it has a section.
std::optional<draw::Part> draw_new_parts(Screen& screen, Bench& bench, View& view, Selection& selection);
/// That the head hangs together too loosely to be posed, where it does.
void draw_hanging(Screen& screen, const Bench& bench);

}  // namespace swashwright::panels
