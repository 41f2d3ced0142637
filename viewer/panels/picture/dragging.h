// Parts dragged by their handles: the sticks go where the part is wanted, and where they can't, it is told why.
#pragma once

#include <imgui.h>

#include <string>
#include <vector>

#include "viewer/panels/base/layout.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/picture/sights.h"

namespace swashwright::panels {

/// Of the chosen part, as far as it can be moved now.
std::vector<draw::Handle> chosen_handles(const Bench& bench, const View& view, const Selection& selection);
/// Takes the handle under the pointer, if there is one. `cyclic`: a blade is to be moved by the cyclic stick.
void grab_handle(const Screen& screen, Bench& bench, const View& view, const Selection& selection, Sights& sights,
                 const Rect& place, bool cyclic);
/// Brings what is dragged to the pointer.
void drag_on(const Screen& screen, Bench& bench, const View& view, Sights& sights, const Rect& place);
/// The sticks stand where they stood when the handle was grabbed.
void give_drag_up(Bench& bench, Sights& sights);
/// Notes which handle the pointer is on.
void find_handle(const Screen& screen, const Bench& bench, const View& view, const Selection& selection, Sights& sights,
                 const Rect& place);
void draw_handles(Screen& screen, const Bench& bench, const View& view, const Selection& selection,
                  const Sights& sights, ImDrawList& list, const Rect& place);
/// What a drag, or the handle under the pointer, has to say.
std::vector<std::string> drag_words(const Sights& sights);

}  // namespace swashwright::panels
