// Forces along links and moments at horns, over the drawing. Internal to draw/.
#pragma once

#include <vector>

#include "viewer/draw/overlay/overlay.h"
#include "viewer/draw/overlay/pen.h"

namespace swashwright::draw {

/// Lines beside the links, as wide as their force against the largest: a full bar whose arrows point apart where the
/// link is pulled, two thin lines whose arrows point at each other where it is pushed. The words are appended to
/// `labels`, for the caller to place.
void draw_forces(const Pen& pen, const LoadMarks& loads, std::vector<Label>& labels);

}  // namespace swashwright::draw
