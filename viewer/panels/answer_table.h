// A table of a study's answer in the column on the right.
#pragma once

#include <optional>
#include <string>

#include "kinematics/studies/answer.h"
#include "viewer/draw/part.h"

namespace swashwright::panels {

struct State;

/// The part that a scene path names ("upper_link[2]", "servo[1].trim_deg"); none if it names no part.
std::optional<draw::Part> part_of(const std::string& path);

/// Draws the table; long ones in part until `whole` is asked for. A row that is pointed at lights its part, a click
/// keeps it lit; a part that is lit marks its rows.
void draw_table(State& state, const studies::Table& table, const std::string& id, bool& whole);

}  // namespace swashwright::panels
