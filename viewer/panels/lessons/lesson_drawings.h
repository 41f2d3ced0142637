// Line drawings for what the solver has no model of yet.
#pragma once

#include <string>

namespace swashwright::panels {

struct Screen;

/// One of `scene::drawings`, as wide as there is room for.
void draw_lesson_drawing(Screen& screen, const std::string& name);

}  // namespace swashwright::panels
