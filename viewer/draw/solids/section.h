// A cut through closed meshes by a plane: the outlines of the cut faces. GL-free.
#pragma once

#include <vector>

#include "viewer/draw/solids/mesh.h"

namespace swashwright::draw {

/// Points x with normal . x = offset; what lies beyond (greater) is taken away.
struct Plane {
    Vec3 normal = Vec3::UnitX();  // unit
    double offset = 0;

    double height_of(const Vec3& x) const { return normal.dot(x) - offset; }
};

struct CutLine {
    Vec3 a, b;
};

/// The upright plane through the shaft that looks towards an azimuth (deg from the nose, anticlockwise from above).
Plane plane_towards(double azimuth_deg);
/// A plane of the frame that holds a placed part, in the part's own frame.
Plane seen_from(const Plane& plane, const Placement& placement);
/// The outline of the cut face as loose lines: they join to closed loops, so every point of the face is told by how
/// often a ray from it meets them (even-odd). Each runs with the solid on its left, seen against the normal.
std::vector<CutLine> cut_lines(const std::vector<Vertex>& vertices, const std::vector<int>& triangles,
                               const Plane& plane);
/// Area of the cut face, in the lines' unit squared.
double cut_area(const std::vector<CutLine>& lines, const Plane& plane);

}  // namespace swashwright::draw
