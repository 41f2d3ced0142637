// The Measure sheet: a new head from calliper readings, step by step.
#pragma once

#include <string>

#include "viewer/panels/base/screen.h"
#include "viewer/panels/bench/wishes.h"
#include "viewer/panels/measure/measure_sheet.h"

namespace swashwright::panels {

void draw_measure(Screen& screen, MeasureSheet& sheet, Wishes& wishes);

// What its pages share.
/// After every change of a reading or of the layout.
void measure_changed(MeasureSheet& sheet);
/// A paragraph in ink, or softer.
void measure_text(const Screen& screen, const std::string& words, bool soft = false);
/// A small filled mark, then words: told by shape first.
void measure_doubt(const Screen& screen, const std::string& words);

/// One of the doubts in their order, from 1; `leads` somewhere: it can be pressed. True when it is.
bool doubt_row(Screen& screen, const std::string& id, std::size_t number, const std::string& words, bool leads);
/// The page of a reading, with the keyboard in its field.
void go_to_reading(MeasureSheet& sheet, const studies::ReadingPlace& place);

/// The last page: the head that the readings make, its links, and what is doubtful about it.
void draw_measured_head(Screen& screen, MeasureSheet& sheet, Wishes& wishes);

}  // namespace swashwright::panels
