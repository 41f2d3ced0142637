// What a picture shows, as points to place a camera by. GL-free; head frame, mm.
#pragma once

#include <vector>

#include "viewer/draw/base/style.h"

namespace swashwright::draw {

struct Contents {
    std::vector<Vec3> points;
    std::vector<Vec3> swept;  // each goes round the shaft
};

/// The head in a pose, its construction lines, and the ghost and traces that the style asks for. `turning`: what goes
/// round with the rotor sweeps its circle.
/// What is hidden counts as not there; nor do the construction lines where anything is.
Contents contents_of(const head::Description& description, const head::Pose& pose, const Style& style, bool turning);
/// Points that hold one part, as drawn in a pose.
std::vector<Vec3> points_of(const Part& part, const head::Description& description, const head::Pose& pose,
                            const Style& style);

}  // namespace swashwright::draw
