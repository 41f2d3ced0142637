// Forces along links and moments at horns, over the drawing. Internal to draw/.
#pragma once

#include <vector>

#include "viewer/draw/overlay/overlay.h"
#include "viewer/draw/overlay/pen.h"

namespace swashwright::draw {

/// Lines beside the links, as wide as their force against the largest: a full bar whose arrows point apart where the
/// link is pulled, two thin lines whose arrows point at each other where it is pushed. The words, with the name of the
/// link or servo above the number, are placed in the margins and appended to `labels`; they cover nothing that is taken
/// and, where there is room, none of `solids`. What finds no room is left out.
void draw_forces(const Pen& pen, const LoadMarks& loads, const std::vector<SolidBox>& solids,
                 std::vector<NameBox>& taken, std::vector<Label>& labels);

}  // namespace swashwright::draw
