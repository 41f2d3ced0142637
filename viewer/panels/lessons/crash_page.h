// The list for after a crash, on the sheet of lessons.
#pragma once

#include "viewer/panels/lessons/lesson_sheet.h"

namespace swashwright::panels {

/// What to look at after a crash on the head of this document; ticks are of that head alone and outlast the program.
void draw_crash_list(Screen& screen, const document::Document& document, Lessons& lessons);

}  // namespace swashwright::panels
