// Points of a posed head that words and dimensions point at. GL-free; head frame, mm.
#pragma once

#include <optional>

#include "viewer/draw/base/style.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {

/// A place on the part, as drawn; none if the pose lacks it.
std::optional<Vec3> anchor_of(const Part& part, const head::Description& description, const head::Pose& pose,
                              const Style& style);
struct Segment {
    Vec3 a, b;
};

/// The ends of the length that a dimension shows: ball to ball of a link, pivot to ball of a horn; none for other
/// parts.
std::optional<Segment> length_of(const Part& part, const head::Description& description, const head::Pose& pose);
/// "lower link 2", "blade 1", "outer ring".
std::string name_of(const Part& part);
/// What a drawing of the head is titled.
std::string title_of(const head::Description& description);

}  // namespace swashwright::draw
