// Line drawings for what the solver has no model of yet.
#pragma once

#include <string>

namespace swashwright::panels {

struct State;

/// One of `scene::drawings`, as wide as there is room for.
void draw_lesson_drawing(State& state, const std::string& name);

}  // namespace swashwright::panels
