// Every part of a head as simple solids for clearance: capsules made from the description, and the user's own shapes.
#pragma once

#include <string>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::studies {

/// All points within `radius` of a straight line from `a` to `b`.
struct Capsule {
    Vec3 a = Vec3::Zero(), b = Vec3::Zero();
    double radius = 0;
};

/// One part: solids that keep their places to one another, in the part's frame (`head::Model::placement`).
struct PartSolids {
    head::PartId part;
    std::string path, words, label;  // "swashplate.outer_balls", "the outer ring", "outer ring"
    std::vector<Capsule> capsules;
    std::vector<head::Solid> others;  // the user's boxes, cylinders and meshes
    bool invented = true;             // nothing of it comes from the user
};

/// Thickness of the shank of a link's end, in diameters of its boss: common practice, no source.
inline constexpr double shank_of_boss = 0.7;

/// Sizes that the description does not give are those of the drawing: see `assumed_sizes`. Servo bodies, guide and
/// driver arms have no solids of their own: their shapes cannot be told from the description. A lever or slider is an
/// arm from its pivot or origin to each of its balls, as thick as a horn.
std::vector<PartSolids> part_solids(const head::Head& head);

/// The sizes that the description does not give, in a sentence.
std::string assumed_sizes(const head::Description& description);

}  // namespace swashwright::studies
