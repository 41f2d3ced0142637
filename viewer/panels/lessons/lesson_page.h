// The sheet of lessons: the list, or the open one.
#pragma once

#include "viewer/panels/lessons/lesson_sheet.h"

namespace swashwright::panels {

void draw_lessons(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons);

}  // namespace swashwright::panels
