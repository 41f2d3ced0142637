// The parts' names written in the margins, with leader lines. Internal to draw/.
#pragma once

#include <string>
#include <vector>

#include "viewer/draw/lines/in_sight.h"
#include "viewer/draw/overlay/name_columns.h"
#include "viewer/draw/overlay/pen.h"

namespace swashwright::draw {

/// What the trade calls a part.
std::string trade_name_of(const Part& part, const head::Description& description);

/// Names every spot but blades, which have labels of their own, clear of what is `taken`.
void draw_names(const Pen& pen, const head::Description& description, const head::Pose& pose, const Style& style,
                const std::vector<Spot>& spots, const std::vector<NameBox>& taken);

}  // namespace swashwright::draw
