// The questions that the studies answer, as cards.
#pragma once

#include <vector>

#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/gauge.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/wishes.h"
#include "viewer/panels/questions/questions.h"

namespace swashwright::panels {

void draw_questions(Screen& screen, Bench& bench, Selection& selection, Gauge& gauge, std::vector<Question>& questions,
                    Wishes& wishes);

}  // namespace swashwright::panels
