// FCL's distance between triangles only. Its distance between shapes (GJK, EPA) is off by millimetres, or ends the
// program by an assertion, where edges are parallel, as those of shapes typed in round numbers are (FCL 0.7).
#include "kinematics/studies/envelope/surface.h"

#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/narrowphase/detail/traversal/distance/mesh_distance_traversal_node.h>
#include <fcl/narrowphase/detail/traversal/traversal_recurse.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <vector>

namespace swashwright::studies {

namespace {

using head::Solid;
using head::Triangles;

constexpr double outside_mm = 0.005;  // by how much a cylinder's edges stand outside

fcl::Transform3d as_transform(const Placement& placement) {
    fcl::Transform3d out = fcl::Transform3d::Identity();
    out.linear() = placement.turn;
    out.translation() = placement.origin;
    return out;
}

class TriangleSurface : public Surface {
public:
    TriangleSurface(const Triangles& triangles, const Vec3& at, double thickness) : thickness_(thickness) {
        std::vector<Vec3> points = triangles.points;
        for (Vec3& point : points) point += at;
        std::vector<fcl::Triangle> faces;
        for (const auto& f : triangles.faces)
            faces.emplace_back(static_cast<std::size_t>(f[0]), static_cast<std::size_t>(f[1]),
                               static_cast<std::size_t>(f[2]));
        model_.beginModel(static_cast<int>(faces.size()), static_cast<int>(points.size()));
        model_.addSubModel(points, faces);
        model_.endModel();
        model_.computeLocalAABB();
        for (const int i : one_of_each_piece(triangles)) pieces_.push_back(points[static_cast<std::size_t>(i)]);
    }
    Sphere sphere() const override { return {model_.aabb_center, model_.aabb_radius + thickness_}; }

    /// True if the point, in the part's frame, is inside what is filled.
    virtual bool holds(const Vec3&) const { return false; }
    /// A point of each piece that hangs together.
    const std::vector<Vec3>& pieces() const { return pieces_; }
    const fcl::BVHModel<fcl::OBBRSSd>& model() const { return model_; }
    double thickness() const { return thickness_; }

private:
    static std::vector<int> one_of_each_piece(const Triangles& triangles) {
        std::vector<int> leader(triangles.points.size());
        std::iota(leader.begin(), leader.end(), 0);
        const auto first = [&](int i) {
            while (leader[static_cast<std::size_t>(i)] != i) {
                int& up = leader[static_cast<std::size_t>(i)];
                i = up = leader[static_cast<std::size_t>(up)];
            }
            return i;
        };
        for (const auto& f : triangles.faces)
            for (const int other : {f[1], f[2]}) leader[static_cast<std::size_t>(first(other))] = first(f[0]);
        std::vector<int> out;
        for (const auto& f : triangles.faces) out.push_back(first(f[0]));
        std::ranges::sort(out);
        out.erase(std::unique(out.begin(), out.end()), out.end());
        return out;
    }

    fcl::BVHModel<fcl::OBBRSSd> model_;
    std::vector<Vec3> pieces_;
    double thickness_;
};

class Box : public TriangleSurface {
public:
    explicit Box(const Solid& solid)
        : TriangleSurface(skin(solid.size_mm / 2), solid.at, 0), at_(solid.at), half_(solid.size_mm / 2) {}
    bool holds(const Vec3& p) const override { return ((p - at_).cwiseAbs() - half_).maxCoeff() < 0; }

private:
    static Triangles skin(const Vec3& half) {
        Triangles out;
        for (int i = 0; i < 8; ++i)
            out.points.emplace_back(i & 1 ? half.x() : -half.x(), i & 2 ? half.y() : -half.y(),
                                    i & 4 ? half.z() : -half.z());
        const std::array<std::array<int, 4>, 6> sides{
            {{0, 1, 3, 2}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 3, 7, 5}}};
        for (const auto& s : sides) out.faces.insert(out.faces.end(), {{s[0], s[1], s[2]}, {s[0], s[2], s[3]}});
        return out;
    }

    Vec3 at_, half_;
};

class Cylinder : public TriangleSurface {
public:
    explicit Cylinder(const Solid& solid)
        : TriangleSurface(skin(solid), Vec3::Zero(), 0),
          at_(solid.at),
          along_(solid.to - solid.at),
          radius_(solid.diameter_mm / 2) {}
    bool holds(const Vec3& p) const override {
        const double t = (p - at_).dot(along_) / along_.squaredNorm();
        return t > 0 && t < 1 && (p - at_ - t * along_).norm() < radius_;
    }

private:
    static Triangles skin(const Solid& solid) {
        const double radius = solid.diameter_mm / 2;
        const int sides = std::max(8, static_cast<int>(std::ceil(pi / std::acos(radius / (radius + outside_mm)))));
        const Vec3 x = (solid.to - solid.at).unitOrthogonal(), y = (solid.to - solid.at).normalized().cross(x);
        Triangles out;
        out.points = {solid.at, solid.to};
        for (int i = 0; i < sides; ++i) {
            const double a = 2 * pi * i / sides;
            const Vec3 edge = radius / std::cos(pi / sides) * (std::cos(a) * x + std::sin(a) * y);
            out.points.insert(out.points.end(), {solid.at + edge, solid.to + edge});
        }
        for (int i = 0; i < sides; ++i) {
            const int here = 2 + 2 * i, next = 2 + 2 * ((i + 1) % sides);
            out.faces.insert(
                out.faces.end(),
                {{0, here, next}, {1, here + 1, next + 1}, {here, next, here + 1}, {next, here + 1, next + 1}});
        }
        return out;
    }

    Vec3 at_, along_;
    double radius_;
};

/// Where a piece of `inner` is inside what `outer` fills, head frame; null if none is.
std::optional<Vec3> piece_inside(const TriangleSurface& outer, const Placement& at_outer, const TriangleSurface& inner,
                                 const Placement& at_inner) {
    for (const Vec3& piece : inner.pieces()) {
        const Vec3 point = at_inner * piece;
        if (outer.holds(at_outer.turn.transpose() * (point - at_outer.origin))) return point;
    }
    return std::nullopt;
}

}  // namespace

std::shared_ptr<const Surface> Surface::of(const Solid& solid) {
    if (solid.shape == Solid::Shape::box) return std::make_shared<Box>(solid);
    if (solid.shape == Solid::Shape::cylinder) return std::make_shared<Cylinder>(solid);
    if (solid.shape == Solid::Shape::mesh && solid.mesh && !solid.mesh->faces.empty())
        return std::make_shared<TriangleSurface>(*solid.mesh, solid.at, 0);
    return nullptr;
}

std::shared_ptr<const Surface> Surface::of(const Capsule& capsule) {
    return std::make_shared<TriangleSurface>(Triangles{{capsule.a, capsule.b, capsule.b}, {{0, 1, 2}}}, Vec3::Zero(),
                                             capsule.radius);
}

Gap gap_between(const Surface& first, const Placement& at_a, const Surface& second, const Placement& at_b,
                double enough) {
    const auto& a = static_cast<const TriangleSurface&>(first);
    const auto& b = static_cast<const TriangleSurface&>(second);
    const double round = a.thickness() + b.thickness();
    auto inside = piece_inside(a, at_a, b, at_b);
    if (!inside) inside = piece_inside(b, at_b, a, at_a);
    if (inside) return {-round, {*inside, *inside}};
    const fcl::DistanceRequestd request(true);
    // A search that starts from this ends sooner; finding nothing nearer, it leaves it.
    fcl::DistanceResultd result(std::max(0.0, enough + round) + 1);
    // As fcl::distance goes through two such trees; that one brings every other shape's ways along.
    fcl::detail::MeshDistanceTraversalNodeOBBRSSd node;
    initialize(node, a.model(), as_transform(at_a), b.model(), as_transform(at_b), request, result);
    node.preprocess();
    fcl::detail::distanceRecurse(&node, 0, 0, nullptr);
    node.postprocess();
    const double distance = std::max(0.0, result.min_distance);
    if (distance - round > enough) return {distance - round, {}};
    const Vec3 p = result.nearest_points[0], q = result.nearest_points[1];
    const Vec3 way = distance > 0 ? Vec3((q - p) / distance) : Vec3::Zero();
    return {distance - round, {p + a.thickness() * way, q - b.thickness() * way}};
}

}  // namespace swashwright::studies
