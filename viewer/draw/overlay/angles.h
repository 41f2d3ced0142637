// An angle over the drawing: an arc between its two legs, and its value. Internal to draw/.
#pragma once

#include <vector>

#include "viewer/draw/overlay/overlay.h"
#include "viewer/draw/overlay/pen.h"

namespace swashwright::draw {

/// What the words cover joins what is taken.
void draw_angle(const Pen& pen, const AngleMark& angle, std::vector<NameBox>& taken);

}  // namespace swashwright::draw
