// Solids that are no capsules, as surfaces of triangles: boxes, cylinders, meshes, and what meets them.
#pragma once

#include <array>
#include <memory>

#include "kinematics/head/description.h"
#include "kinematics/studies/envelope/part_solids.h"

namespace swashwright::studies {

/// The least distance between two solids and the points where they stand, less what makes them round: negative where
/// they overlap.
struct Gap {
    double mm = 0;
    std::array<Vec3, 2> at;  // on either surface, head frame
};

struct Sphere {
    Vec3 centre = Vec3::Zero();
    double radius = 0;

    double apart_from(const Sphere& other) const { return (centre - other.centre).norm() - radius - other.radius; }
    /// Free of roots.
    bool may_be_nearer(const Sphere& other, double than) const {
        const double reach = radius + other.radius + than;
        return reach > 0 && (centre - other.centre).squaredNorm() < reach * reach;
    }
};

/// Fixed to a part, in the part's frame, mm. Cheap to copy; copies may be used by several threads.
class Surface {
public:
    /// A box, a cylinder or a mesh; null where there is nothing of it (a mesh that was not read). Cylinders have flat
    /// sides, whose middles stand on the true surface and whose edges at most 0.005 mm outside it.
    static std::shared_ptr<const Surface> of(const head::Solid& solid);
    /// A capsule's middle line, as thick as the capsule.
    static std::shared_ptr<const Surface> of(const Capsule& capsule);
    virtual ~Surface() = default;

    /// Around all of it.
    virtual Sphere sphere() const = 0;
};

/// With both placed in the head frame. Boxes and cylinders are filled; a mesh is a skin, so that a canopy may hold a
/// head. Exact to rounding. Overlapping, it tells minus the thickness of the capsules, 0 if there is none: no depth.
/// `enough`: where the gap is larger than this, any value above it may be told, with points that mean nothing.
Gap gap_between(const Surface& a, const Placement& at_a, const Surface& b, const Placement& at_b, double enough);

}  // namespace swashwright::studies
