// A small panel over the picture.
#pragma once

#include <imgui.h>

#include "viewer/panels/base/screen.h"

namespace swashwright::panels {

/// As large as what is in it; `pivot` (0 to 1 each way) of it stands at `at`. `most`: so wide, and no higher, but for
/// what scrolls.
void begin_floating(const Screen& screen, const char* name, ImVec2 at, ImVec2 pivot, ImVec2 most = {0, 0});
/// Gives its size.
ImVec2 end_floating();

}  // namespace swashwright::panels
