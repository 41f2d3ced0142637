// A plot as the build sheet has it, drawn in the window.
#pragma once

#include <string>

#include "viewer/panels/base/screen.h"
#include "viewer/sheet/content.h"

namespace swashwright::panels {

/// As wide as there is room for, with its title above and its lines' names below. `name` is that of the item.
void draw_plot(Screen& screen, const std::string& name, const sheet::Plot& plot);

}  // namespace swashwright::panels
