// Every measured number of the head as rows that are typed into.
#pragma once

#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/ledger/part_form.h"

namespace swashwright::panels {

void draw_ledger(Screen& screen, Bench& bench, View& view, Selection& selection, Ledger& ledger);
/// The numbers of the part that was clicked, to be changed beside an answer.
void draw_part_numbers(Screen& screen, Bench& bench, Selection& selection, Ledger& ledger);
/// The rows of the ledger again, and what hangs on them, if the head has other parts than before.
void follow_parts(Bench& bench, Selection& selection, Ledger& ledger);

}  // namespace swashwright::panels
