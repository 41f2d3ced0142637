// A slider for each part that is moved by hand.
#pragma once

#include "viewer/panels/window/tray.h"

namespace swashwright::panels {

/// How high they stand, pixels; 0 where nothing is moved by hand. Of many some are in sight, and the rest scrolls.
float hands_height(const head::Description& head, float scale);
void draw_hands(Screen& screen, Bench& bench, TrayFocus& focus, const Rect& place);

}  // namespace swashwright::panels
