// Distances that are kept on the picture, as drawing dimensions. Internal to draw/.
#pragma once

#include <vector>

#include "viewer/draw/overlay/name_columns.h"
#include "viewer/draw/overlay/overlay.h"
#include "viewer/draw/overlay/pen.h"

namespace swashwright::draw {

/// Each beside its ends, later ones farther out; their words join what is taken.
void draw_distances(const Pen& pen, const std::vector<DistanceMark>& marks, std::vector<NameBox>& taken);

}  // namespace swashwright::draw
