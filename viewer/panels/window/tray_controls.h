// What in the tray is dragged: pad, strips and ring, drawn where the cursor stands. Internal to the tray.
#pragma once

#include "viewer/panels/window/tray.h"

namespace swashwright::panels {

void cyclic_pad(Screen& screen, Bench& bench, TrayFocus& focus, float size);
void collective_strip(Screen& screen, Bench& bench, TrayFocus& focus, float width, float height);
/// A tail's one stick, right positive.
void rudder_strip(Screen& screen, Bench& bench, TrayFocus& focus, float width, float height);
/// A plan view, nose up: the blades stand where they stand on the model. Dragging turns blade 1.
void azimuth_ring(Screen& screen, Bench& bench, TrayFocus& focus, float size);

}  // namespace swashwright::panels
