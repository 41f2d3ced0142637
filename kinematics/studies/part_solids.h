// Every part of a head as simple solids for clearance: capsules made from the description, and the user's own shapes.
#pragma once

#include <string>
#include <vector>

#include "kinematics/head/solver.h"

namespace swashwright::studies {

/// All points within `radius` of a straight line from `a` to `b`.
struct Capsule {
    Vec3 a = Vec3::Zero(), b = Vec3::Zero();
    double radius = 0;
};

/// What a group of solids moves with: a body of the linkage, or a link, whose frame has its origin at the lower ball
/// and z towards the upper one.
struct Carrier {
    linkage::BodyId body;
    int link = -1;  // not a link
    bool upper = false;
};

enum class PartKind { shaft, frame, horn, lower_link, inner_ring, outer_ring, hub, upper_link, grip };

/// One part: solids that keep their places to one another, in the carrier's frame.
struct PartSolids {
    PartKind kind = PartKind::shaft;
    int index = 0;
    std::string path, words, label;  // "swashplate.outer_balls", "the outer ring", "outer ring"
    Carrier carrier;
    std::vector<Capsule> capsules;
    std::vector<head::Solid> others;  // the user's boxes, cylinders and meshes
    bool invented = true;             // nothing of it comes from the user
};

/// Thickness of the shank of a link's end, in diameters of its boss: common practice, no source.
inline constexpr double shank_of_boss = 0.7;

/// Sizes that the description does not give are those of the drawing: see `assumed_sizes`. Servo bodies, guide and
/// driver arms have no solids of their own: their shapes cannot be told from the description.
std::vector<PartSolids> part_solids(const head::Head& head);

/// The sizes that the description does not give, in a sentence.
std::string assumed_sizes(const head::Description& description);

/// Where a carrier stands, head frame.
Placement placement_of(const Carrier& carrier, const head::Parts& parts, const linkage::Workspace& ws);

/// True if the two are joined (share a ball, a bearing, a pin, or the same body), so that they touch by their making: a
/// link and the parts at its ends, a horn and its own link, both rings, ring and shaft, hub, grips and shaft, hub and
/// grips, frame and horns, frame and shaft.
bool joined(const PartSolids& a, const PartSolids& b);

}  // namespace swashwright::studies
