// One step in large letters: its words, its drawing, the number that it asks for, buttons.
#pragma once

#include "viewer/panels/at_bench/at_bench.h"

namespace swashwright::panels {

/// Into the window that is begun. What is pressed is done.
void draw_board(Screen& screen, AtBench& at_bench, ImVec2 window);

}  // namespace swashwright::panels
