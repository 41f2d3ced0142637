// Closed triangle meshes and what a line drawing needs of them: smooth normals, edges, seams. GL-free; mm.
#pragma once

#include <array>
#include <vector>

#include "kinematics/linkage/geometry.h"

namespace swashwright::draw {

/// Points shared between faces; faces run anticlockwise seen from outside. A closed mesh has two faces at each edge.
struct Mesh {
    std::vector<Vec3> points;
    std::vector<std::array<int, 3>> faces;
};

/// An edge with the unit normals of its two faces. It is drawn where one face looks at the eye and the other does not
/// (silhouette), and always, if seen, where it is a crease.
struct Edge {
    Vec3 a, b;
    Vec3 left, right;
    bool crease;
};

struct Vertex {
    Vec3 point, normal;  // unit
};

struct Surface {
    std::vector<Vertex> vertices;
    std::vector<int> triangles;  // three to a face
    std::vector<Edge> edges;     // flat ones left out
};

struct Box {
    Vec3 low = Vec3::Constant(1e300), high = Vec3::Constant(-1e300);
    void add(const Vec3& p);
    bool meets(const Box& other) const;
};

Box box_of(const Mesh& mesh);
/// Positive where the faces run anticlockwise seen from outside.
double signed_volume(const Mesh& mesh);
/// Splits points at creases (edges sharper than 40 deg), averages normals across the others. Faces without area are
/// left out.
Surface surface_of(const Mesh& mesh);
/// Where two meshes pass through each other: the lines that a draughtsman draws there, as creases. Coplanar faces give
/// none.
std::vector<Edge> seams(const Mesh& first, const Mesh& second);

}  // namespace swashwright::draw
