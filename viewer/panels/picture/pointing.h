// What the pointer rests on in the picture: the part is lit, and a note beside the pointer tells its main numbers.
#pragma once

#include <optional>

#include "viewer/draw/base/part.h"
#include "viewer/panels/base/layout.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/picture/sights.h"

namespace swashwright::panels {

/// The part that the pointer has rested on long enough to be told about.
std::optional<draw::Part> pointed_at(const Screen& screen, const Sights& sights);
/// Follows the pointer; call behind the picture's own item.
void follow_pointer(Screen& screen, const View& view, Sights& sights, const Rect& picture);
void draw_note(Screen& screen, const Bench& bench, Sights& sights, const Rect& picture);

}  // namespace swashwright::panels
