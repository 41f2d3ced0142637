// Cyclic pad, collective strip, azimuth ring, and their numbers.
#pragma once

#include "viewer/panels/base/layout.h"
#include "viewer/panels/bench/bench.h"

namespace swashwright::panels {

enum class TrayFocus { pad, collective, azimuth };  // what the arrow keys move

void draw_tray(Screen& screen, Bench& bench, TrayFocus& focus, const Rect& place);

}  // namespace swashwright::panels
