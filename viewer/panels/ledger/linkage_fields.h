// The fields of what a linkage is built of: levers, sliders, fixed balls, pins, and which balls a link joins.
#pragma once

#include "kinematics/head/references.h"
#include "viewer/panels/ledger/part_fields.h"

namespace swashwright::panels {

std::vector<Field> lever_fields(const head::Description& description, std::size_t lever);
std::vector<Field> slider_fields(const head::Description& description, std::size_t slider);
std::vector<Field> fixed_ball_fields(const head::Description& description, std::size_t ball);
std::vector<Field> pin_fields(std::size_t pin);
/// What a link is called, and which balls it joins.
std::vector<Field> end_fields(const draw::Part& link);
/// On which lever a grip stands, if on any.
Field grip_lever_field(std::size_t grip);

}  // namespace swashwright::panels
