// Which part lies under a pixel, by ray casting. GL-free.
#pragma once

#include <optional>
#include <vector>

#include "viewer/draw/strokes.h"

namespace swashwright::draw {

/// `x`, `y`: pixels from the viewport's top left corner. None where the ray meets nothing; what
/// lies beyond `cut` is not there, but for the shaft.
std::optional<Part> pick_part(const std::vector<Drawn>& drawn, const Frames& frames, const Camera& camera,
                              const Viewport& viewport, double x, double y,
                              const std::optional<Plane>& cut = std::nullopt);

}  // namespace swashwright::draw
