// The head's plan: every solid's outline seen from above, coarse, for the shadow on the sheet. GL-free.
#pragma once

#include <optional>
#include <vector>

#include "viewer/draw/lines/strokes.h"

namespace swashwright::draw {

/// The few points of a solid that can be outermost, in its frame, mm.
struct Caster {
    Frame frame;
    bool whole = false;  // not cut in a section
    std::vector<Vec3> corners;
};
/// Balls, rods and threads are too small to be missed, and many: left out.
std::vector<Caster> casters_of(const std::vector<Drawn>& drawn);

/// Convex outlines as triangles, anticlockwise seen from above: x, y, z of each corner, mm, head frame. `cut`: an
/// upright plane; what lies beyond it throws no shadow.
std::vector<float> plan_view(const std::vector<Caster>& casters, const Frames& frames,
                             const std::optional<Plane>& cut = {});

}  // namespace swashwright::draw
