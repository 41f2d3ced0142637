// A table of a study's answer in the column on the right.
#pragma once

#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"

namespace swashwright::panels {

/// Draws the table; long ones in part until `whole` is asked for, wide ones with what has no room below each row. A row
/// that is pointed at lights its part, a press keeps it lit; where the row names a place the camera goes to the part,
/// and a button below it takes sticks and rotor there. A part that is lit marks its rows.
void draw_table(Screen& screen, Bench& bench, Selection& selection, const studies::Table& table, const std::string& id,
                bool& whole);

/// All tables of an answer and its notes. `whole`: of each table, whether it is shown in full.
void draw_tables(Screen& screen, Bench& bench, Selection& selection, const studies::Answer& answer,
                 const std::string& id, std::vector<bool>& whole);

}  // namespace swashwright::panels
