// Balls that can be clicked in the picture, while the end of a link or pin is asked for.
#pragma once

#include <imgui.h>

#include "viewer/panels/base/layout.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"

namespace swashwright::panels {

/// A ring round each ball; Escape gives up. What is asked stands among the patches (`patch_words`).
void draw_ball_pick(Screen& screen, const Bench& bench, const View& view, Selection& selection, ImDrawList& list,
                    const Rect& place);

}  // namespace swashwright::panels
