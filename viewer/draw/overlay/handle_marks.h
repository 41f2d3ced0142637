// Handles over the picture: a round grip with an arrow either way that it goes.
#pragma once

#include <vector>

#include "viewer/draw/base/camera.h"
#include "viewer/draw/base/style.h"
#include "viewer/draw/lines/handles.h"

struct ImDrawList;

namespace swashwright::draw {

/// `firm`: drawn in the accent colour; null for none.
void draw_handle_marks(ImDrawList& list, const std::vector<Handle>& handles, const Handle* firm, const Camera& camera,
                       const Viewport& viewport, bool night, float scale);

}  // namespace swashwright::draw
