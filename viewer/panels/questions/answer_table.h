// A table of a study's answer in the column on the right.
#pragma once

#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"

namespace swashwright::panels {

struct State;

/// Draws the table; long ones in part until `whole` is asked for. A row that is pointed at lights its part, a click
/// keeps it lit; a part that is lit marks its rows.
void draw_table(State& state, const studies::Table& table, const std::string& id, bool& whole);

/// All tables of an answer and its notes. `whole`: of each table, whether it is shown in full.
void draw_tables(State& state, const studies::Answer& answer, const std::string& id, std::vector<bool>& whole);

}  // namespace swashwright::panels
