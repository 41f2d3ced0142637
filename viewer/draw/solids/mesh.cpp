#include "viewer/draw/solids/mesh.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <span>
#include <utility>

namespace swashwright::draw {
namespace {

constexpr double smooth_cos = 0.766;   // 40 deg: gentler edges are shaded smooth
constexpr double flat_cos = 0.999999;  // edges in a plane are no edges

Vec3 corner(const Mesh& mesh, std::size_t face, int k) {
    return mesh.points[mesh.faces[face][k]];
}

/// Twice the area times the unit normal.
Vec3 area_normal(const Mesh& mesh, std::size_t face) {
    return (corner(mesh, face, 1) - corner(mesh, face, 0)).cross(corner(mesh, face, 2) - corner(mesh, face, 0));
}

/// The faces around each point, in one array.
class Fans {
public:
    explicit Fans(const Mesh& mesh) : first_(mesh.points.size() + 1, 0), faces_(3 * mesh.faces.size()) {
        for (const auto& face : mesh.faces) {
            for (int point : face) ++first_[point + 1];
        }
        std::partial_sum(first_.begin(), first_.end(), first_.begin());
        std::vector<int> next(first_.begin(), first_.end() - 1);
        for (std::size_t f = 0; f < mesh.faces.size(); ++f) {
            for (int point : mesh.faces[f]) faces_[next[point]++] = static_cast<int>(f);
        }
    }
    std::span<const int> around(int point) const {
        return std::span(faces_).subspan(first_[point], first_[point + 1] - first_[point]);
    }

private:
    std::vector<int> first_, faces_;
};

void add_edges(const Mesh& mesh, const std::vector<Vec3>& normals, Surface& surface) {
    struct Side {
        int low, high;
        std::size_t face;
    };
    std::vector<Side> sides;
    sides.reserve(3 * mesh.faces.size());
    for (std::size_t f = 0; f < mesh.faces.size(); ++f) {
        if (normals[f].isZero()) continue;
        for (int k = 0; k < 3; ++k) {
            const int a = mesh.faces[f][k], b = mesh.faces[f][(k + 1) % 3];
            sides.push_back({std::min(a, b), std::max(a, b), f});
        }
    }
    // The two faces of an edge come to stand next to each other.
    std::ranges::sort(sides, {}, [](const Side& s) { return std::pair(s.low, s.high); });
    for (std::size_t i = 0; i + 1 < sides.size(); ++i) {
        const Side &one = sides[i], &two = sides[i + 1];
        if (one.low != two.low || one.high != two.high) continue;
        const Vec3 &left = normals[one.face], &right = normals[two.face];
        const double cosine = left.dot(right);
        if (cosine <= flat_cos) {
            surface.edges.push_back({mesh.points[one.low], mesh.points[one.high], left, right, cosine < smooth_cos});
        }
        ++i;
    }
}

/// The stretch of triangle `f` of `mesh` that lies in the plane (n, d), as two points; none if it does not cross.
std::optional<std::pair<Vec3, Vec3>> cut(const Mesh& mesh, std::size_t f, const Vec3& n, double d) {
    std::array<double, 3> height{};
    for (int k = 0; k < 3; ++k) height[k] = n.dot(corner(mesh, f, k)) - d;
    std::array<Vec3, 2> ends;
    int count = 0;
    for (int k = 0; k < 3 && count < 2; ++k) {
        const double from = height[k], to = height[(k + 1) % 3];
        if ((from < 0) == (to < 0)) continue;
        ends[count++] = corner(mesh, f, k) + (corner(mesh, f, (k + 1) % 3) - corner(mesh, f, k)) * (from / (from - to));
    }
    if (count < 2) return std::nullopt;
    return std::pair(ends[0], ends[1]);
}

Box box_of_face(const Mesh& mesh, std::size_t f) {
    Box box;
    for (int k = 0; k < 3; ++k) box.add(corner(mesh, f, k));
    return box;
}

}  // namespace

void Box::add(const Vec3& p) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
}

bool Box::meets(const Box& other) const {
    return (low.array() <= other.high.array()).all() && (other.low.array() <= high.array()).all();
}

Box box_of(const Mesh& mesh) {
    Box box;
    for (const Vec3& p : mesh.points) box.add(p);
    return box;
}

double signed_volume(const Mesh& mesh) {
    if (mesh.points.empty()) return 0;
    const Vec3 base = mesh.points.front();
    double volume = 0;
    for (std::size_t f = 0; f < mesh.faces.size(); ++f) {
        volume += (corner(mesh, f, 0) - base).dot((corner(mesh, f, 1) - base).cross(corner(mesh, f, 2) - base)) / 6;
    }
    return volume;
}

Surface surface_of(const Mesh& mesh) {
    Surface surface;
    std::vector<Vec3> areas(mesh.faces.size()), normals(mesh.faces.size(), Vec3::Zero());
    for (std::size_t f = 0; f < mesh.faces.size(); ++f) {
        areas[f] = area_normal(mesh, f);
        const double size = areas[f].norm();
        if (!(size > 1e-12)) continue;
        normals[f] = areas[f] / size;
    }
    const Fans fans(mesh);
    surface.vertices.reserve(2 * mesh.points.size());
    surface.triangles.reserve(3 * mesh.faces.size());
    std::vector<int> last_copy(mesh.points.size(), -1), earlier_copy;  // vertices made from a point: a linked list
    for (std::size_t f = 0; f < mesh.faces.size(); ++f) {
        if (normals[f].isZero()) continue;
        for (int point : mesh.faces[f]) {
            Vec3 sum = Vec3::Zero();
            for (int g : fans.around(point)) {
                if (normals[g].dot(normals[f]) > smooth_cos) sum += areas[g];
            }
            const Vec3 normal = sum.normalized();
            int copy = last_copy[point];
            while (copy >= 0 && surface.vertices[copy].normal.dot(normal) <= flat_cos) copy = earlier_copy[copy];
            if (copy < 0) {
                copy = static_cast<int>(surface.vertices.size());
                earlier_copy.push_back(std::exchange(last_copy[point], copy));
                surface.vertices.push_back({mesh.points[point], normal});
            }
            surface.triangles.push_back(copy);
        }
    }
    add_edges(mesh, normals, surface);
    return surface;
}

std::vector<Edge> seams(const Mesh& first, const Mesh& second) {
    std::vector<Edge> found;
    const Box first_box = box_of(first), second_box = box_of(second);
    if (!first_box.meets(second_box)) return found;
    std::vector<std::pair<std::size_t, Box>> near;  // faces of the second that can matter
    for (std::size_t g = 0; g < second.faces.size(); ++g) {
        const Box box = box_of_face(second, g);
        if (box.meets(first_box)) near.emplace_back(g, box);
    }
    for (std::size_t f = 0; f < first.faces.size(); ++f) {
        const Box box = box_of_face(first, f);
        if (!box.meets(second_box)) continue;
        const Vec3 n = area_normal(first, f);
        for (const auto& [g, other_box] : near) {
            if (!box.meets(other_box)) continue;
            const Vec3 m = area_normal(second, g);
            const Vec3 along = n.cross(m);
            if (along.squaredNorm() < 1e-12 * n.squaredNorm() * m.squaredNorm()) continue;
            const auto one = cut(first, f, m, m.dot(corner(second, g, 0)));
            const auto two = cut(second, g, n, n.dot(corner(first, f, 0)));
            if (!one || !two) continue;
            // Both stretches lie on the common line of the two planes; their overlap is the seam.
            const auto place = [&](const Vec3& p) { return along.dot(p - one->first); };
            const auto [a0, a1] = std::minmax({0.0, place(one->second)});  // lists, so that values come back
            const auto [b0, b1] = std::minmax({place(two->first), place(two->second)});
            const double from = std::max(a0, b0), to = std::min(a1, b1);
            if (to <= from) continue;
            const Vec3 step = along / along.squaredNorm();
            found.push_back({one->first + step * from, one->first + step * to, n.normalized(), m.normalized(), true});
        }
    }
    return found;
}

}  // namespace swashwright::draw
