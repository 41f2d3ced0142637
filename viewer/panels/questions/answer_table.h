// A table of a study's answer in the column on the right.
#pragma once

#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"

namespace swashwright::panels {

/// Draws the table; long ones in part until `whole` is asked for, wide ones with what has no room below each row. A row
/// that is pointed at lights its part, a press keeps it lit, and names its place for a second press that goes there; a
/// part that is lit marks its rows.
void draw_table(Screen& screen, Bench& bench, Selection& selection, const studies::Table& table, const std::string& id,
                bool& whole);

/// All tables of an answer and its notes. `whole`: of each table, whether it is shown in full.
void draw_tables(Screen& screen, Bench& bench, Selection& selection, const studies::Answer& answer,
                 const std::string& id, std::vector<bool>& whole);

}  // namespace swashwright::panels
