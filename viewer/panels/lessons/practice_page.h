// The page on which a hidden fault is looked for: which round, the gauge, the part, and what came of it.
#pragma once

#include "viewer/panels/lessons/lesson_sheet.h"

namespace swashwright::panels {

void draw_practice(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons);

}  // namespace swashwright::panels
