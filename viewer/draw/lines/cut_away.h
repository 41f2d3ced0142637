// Which parts a section cuts, and which it shows whole or not at all. GL-free.
#pragma once

#include "viewer/draw/base/style.h"
#include "viewer/draw/solids/section.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {

/// Shafts, and what like them is long and solid, stay whole in a section (ISO 128-44, from memory): links, horns,
/// blades.
bool uncut(const Part& part);
/// Where every frame stands, without those of uncut parts, the shaft but for, whose middle lies beyond the plane: what
/// would be left of them by a cut is crumbs.
Frames frames_short_of(const Plane& plane, const head::Description& description, const head::Pose& pose,
                       double exaggeration);

}  // namespace swashwright::draw
