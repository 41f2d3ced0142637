// What can be done with the chosen part: a bar over the picture's corner, and the menu of a right click. While parts
// are hidden the bar says so.
#pragma once

#include <vector>

#include "viewer/draw/overlay/name_columns.h"
#include "viewer/panels/base/layout.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/picture/sights.h"

namespace swashwright::panels {

/// Where the bar stands, as large as it was drawn last: in the lower right corner, above the patches where it would
/// cover one.
draw::NameBox part_bar_box(const Screen& screen, const Sights& sights, const Rect& place,
                           const std::vector<draw::NameBox>& patches);
/// `corner`: its lower right one.
void draw_part_bar(Screen& screen, const Bench& bench, View& view, Selection& selection, Sights& sights, ImVec2 corner);
/// Inside the picture's panel.
void draw_place_menu(Screen& screen, const Bench& bench, View& view, Selection& selection, Sights& sights);

}  // namespace swashwright::panels
