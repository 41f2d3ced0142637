#include "viewer/draw/solids/shapes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace swashwright::draw {
namespace {

constexpr double full_turn = 2 * pi;

Vec3 middle(const Ring& ring) {
    Vec3 sum = Vec3::Zero();
    for (const Vec3& p : ring) sum += p;
    return sum / static_cast<double>(ring.size());
}

Ring moved(const Placement& frame, Ring ring) {
    for (Vec3& p : ring) p = frame * p;
    return ring;
}

/// A plane outline as rings at both faces of a plate `thickness` across.
Mesh plate(const Placement& frame, const Ring& outline, double thickness) {
    Ring low = outline, high = outline;
    for (Vec3& p : low) p.z() -= thickness / 2;
    for (Vec3& p : high) p.z() += thickness / 2;
    return skin({moved(frame, low), moved(frame, high)}, false);
}

/// Where a rectangle with half sides (x, y) and round corners is met by the ray at `angle`.
Vec3 rounded_rectangle(double x, double y, double corner, double angle) {
    const Vec3 ray(std::cos(angle), std::sin(angle), 0);
    const double to_side = std::min(x / std::max(std::abs(ray.x()), 1e-12), y / std::max(std::abs(ray.y()), 1e-12));
    Vec3 hit = ray * to_side;
    const Vec3 pivot(std::copysign(x - corner, ray.x()), std::copysign(y - corner, ray.y()), 0);
    const bool in_corner = std::abs(hit.x()) > std::abs(pivot.x()) && std::abs(hit.y()) > std::abs(pivot.y());
    if (!in_corner || corner <= 0) return hit;
    const double along = ray.dot(pivot);
    return ray * (along + std::sqrt(std::max(0.0, along * along - pivot.squaredNorm() + corner * corner)));
}

/// Angles that sample the corners of a rounded rectangle well, ascending in [0, 2 pi).
std::vector<double> corner_angles(double x, double y, double corner) {
    std::vector<double> angles;
    for (int quadrant = 0; quadrant < 4; ++quadrant) {
        const double sx = quadrant == 0 || quadrant == 3 ? 1 : -1, sy = quadrant < 2 ? 1 : -1;
        for (int k = 0; k <= 4; ++k) {
            const double t = pi / 8 * (quadrant % 2 == 0 ? k : 4 - k);
            const double a =
                std::atan2(sy * (y - corner + corner * std::sin(t)), sx * (x - corner + corner * std::cos(t)));
            angles.push_back(a < 0 ? a + full_turn : a);
        }
    }
    std::ranges::sort(angles);
    angles.erase(std::unique(angles.begin(), angles.end(), [](double p, double q) { return q - p < 1e-6; }),
                 angles.end());
    return angles;
}

double lobe_radius(const Lobe& lobe, double angle) {
    const double off = std::remainder(angle - lobe.angle, full_turn);
    if (std::abs(off) >= pi / 2) return 0;
    const double centre = std::max(0.0, lobe.reach - lobe.half_width), w = lobe.half_width;
    const double side = w / std::max(std::abs(std::sin(off)), 1e-9);
    if (side * std::cos(off) <= centre) return side;
    const double across = centre * std::sin(off);
    return centre * std::cos(off) + std::sqrt(std::max(0.0, w * w - across * across));
}

std::vector<double> lobe_angles(double base, std::span<const Lobe> lobes) {
    std::vector<double> angles;
    constexpr int around = 40;
    for (int k = 0; k < around; ++k) angles.push_back(full_turn * k / around);
    for (const Lobe& lobe : lobes) {
        const double root = std::asin(std::clamp(lobe.half_width / base, 0.01, 1.0));
        const double tip = std::atan2(lobe.half_width, std::max(lobe.reach - lobe.half_width, 1e-9));
        for (double share : {0.0, 0.35, 0.7, 0.9, 1.0}) {
            angles.push_back(lobe.angle + tip * share);
            if (share > 0) angles.push_back(lobe.angle - tip * share);
        }
        for (double share : {0.25, 0.5, 0.75, 1.0, 1.15, 1.3}) {
            angles.push_back(lobe.angle + tip + (root - tip) * share);
            angles.push_back(lobe.angle - tip - (root - tip) * share);
        }
    }
    for (double& a : angles) a -= full_turn * std::floor(a / full_turn);
    std::ranges::sort(angles);
    const auto too_near = [](double p, double q) { return q - p < 0.6 * degree; };
    angles.erase(std::unique(angles.begin(), angles.end(), too_near), angles.end());
    if (full_turn - angles.back() + angles.front() < 0.6 * degree) angles.pop_back();
    return angles;
}

}  // namespace

Vec3 square_to(const Vec3& v) {
    const Vec3 helper = std::abs(v.z()) > 0.9 * v.norm() ? Vec3::UnitX() : Vec3::UnitZ();
    const Vec3 across = v.cross(helper);
    return across.norm() > 0 ? across.normalized() : Vec3::UnitX();
}

Placement frame_at(const Vec3& origin, const Vec3& z, const Vec3& x_hint) {
    Placement frame;
    frame.origin = origin;
    const double length = z.norm();
    const Vec3 up = length > 0 ? Vec3(z / length) : Vec3::UnitZ();
    Vec3 x = x_hint - up * up.dot(x_hint);
    x = x.norm() > 1e-6 * x_hint.norm() && x.norm() > 0 ? x.normalized() : square_to(up);
    frame.turn.col(0) = x;
    frame.turn.col(1) = up.cross(x);
    frame.turn.col(2) = up;
    return frame;
}

Mesh skin(const std::vector<Ring>& rings, bool loop, const Vec3* first_apex, const Vec3* last_apex) {
    Mesh mesh;
    const int count = static_cast<int>(rings.size()), n = static_cast<int>(rings.front().size());
    for (const Ring& ring : rings) mesh.points.insert(mesh.points.end(), ring.begin(), ring.end());
    for (int r = 0; r < (loop ? count : count - 1); ++r) {
        const int low = r * n, high = (r + 1) % count * n;
        for (int k = 0; k < n; ++k) {
            const int next = (k + 1) % n;
            mesh.faces.push_back({low + k, low + next, high + next});
            mesh.faces.push_back({low + k, high + next, high + k});
        }
    }
    if (!loop) {
        const int first = static_cast<int>(mesh.points.size()), last = first + 1, top = (count - 1) * n;
        mesh.points.push_back(first_apex != nullptr ? *first_apex : middle(rings.front()));
        mesh.points.push_back(last_apex != nullptr ? *last_apex : middle(rings.back()));
        for (int k = 0; k < n; ++k) {
            mesh.faces.push_back({(k + 1) % n, k, first});
            mesh.faces.push_back({top + k, top + (k + 1) % n, last});
        }
    }
    if (signed_volume(mesh) < 0) {
        for (auto& face : mesh.faces) std::swap(face[1], face[2]);
    }
    return mesh;
}

Mesh lathe(const Placement& axis, std::span<const Turned> profile, int sides, bool loop) {
    std::vector<Ring> rings;
    for (const Turned& station : profile) {
        Ring ring;
        for (int k = 0; k < sides; ++k) {
            const double a = full_turn * k / sides;
            ring.push_back(axis * Vec3(station.radius * std::cos(a), station.radius * std::sin(a), station.z));
        }
        rings.push_back(std::move(ring));
    }
    return skin(rings, loop);
}

Mesh ball(const Vec3& centre, double radius, const Vec3& pole) {
    constexpr int bands = 8, sides = 16;
    std::vector<Turned> profile;
    for (int k = 1; k < bands; ++k) {
        const double a = pi * k / bands;
        profile.push_back({radius * std::sin(a), -radius * std::cos(a)});
    }
    const Placement axis = frame_at(centre, pole, square_to(pole));
    Mesh mesh = lathe(axis, profile, sides);
    const std::size_t poles = mesh.points.size() - 2;  // the fans' middles, drawn out to the poles
    mesh.points[poles] = axis * Vec3(0, 0, -radius);
    mesh.points[poles + 1] = axis * Vec3(0, 0, radius);
    return mesh;
}

Mesh rod(const Vec3& from, const Vec3& to, double radius, int sides) {
    const Vec3 along = to - from;
    const std::array<Turned, 2> profile{{{radius, 0}, {radius, along.norm()}}};
    return lathe(frame_at(from, along, square_to(along)), profile, sides);
}

Mesh tube(const Vec3& from, const Vec3& to, double inner, double outer, int sides) {
    const Vec3 along = to - from;
    const double length = along.norm();
    const std::array<Turned, 4> profile{{{inner, 0}, {outer, 0}, {outer, length}, {inner, length}}};
    return lathe(frame_at(from, along, square_to(along)), profile, sides, true);
}

Mesh lever(const Vec3& from, const Vec3& to, double from_radius, double to_radius, const Vec3& normal,
           double thickness) {
    const Placement frame = frame_at(from, normal, to - from);
    const double length = std::max((to - from).norm(), 1e-6);
    // The discs' common tangents touch where the radius stands at this angle from the line of centres.
    const double touch = std::acos(std::clamp((from_radius - to_radius) / length, -1.0, 1.0));
    Ring outline;
    constexpr int steps = 9;
    for (int k = 0; k <= steps; ++k) {
        const double a = -touch + 2 * touch * k / steps;
        outline.emplace_back(length + to_radius * std::cos(a), to_radius * std::sin(a), 0);
    }
    for (int k = 0; k <= steps; ++k) {
        const double a = touch + (full_turn - 2 * touch) * k / steps;
        outline.emplace_back(from_radius * std::cos(a), from_radius * std::sin(a), 0);
    }
    return plate(frame, outline, thickness);
}

Mesh block(const Placement& frame, const Vec3& half, double corner) {
    const double round = std::clamp(corner, 0.0, 0.95 * std::min(half.x(), half.y()));
    Ring outline;
    for (double a : corner_angles(half.x(), half.y(), round)) {
        outline.push_back(rounded_rectangle(half.x(), half.y(), round, a));
    }
    return plate(frame, outline, 2 * half.z());
}

Mesh slotted_plate(const Placement& frame, double half_width, double half_height, double half_slot_width,
                   double half_slot_height, double thickness) {
    // Outline and slot are sampled along the same rays, so that they pair up.
    const double round = 0.5 * half_width;
    std::vector<double> angles = corner_angles(half_width, half_height, round);
    const auto slot = corner_angles(half_slot_width, half_slot_height, 0.98 * half_slot_width);
    angles.insert(angles.end(), slot.begin(), slot.end());
    std::ranges::sort(angles);
    angles.erase(std::unique(angles.begin(), angles.end(), [](double p, double q) { return q - p < 1e-4; }),
                 angles.end());
    std::vector<Ring> rings(4);
    for (double a : angles) {
        const Vec3 out = rounded_rectangle(half_width, half_height, round, a);
        const Vec3 in = rounded_rectangle(half_slot_width, half_slot_height, 0.98 * half_slot_width, a);
        const Vec3 across(0, 0, thickness / 2);
        rings[0].push_back(frame * (in - across));
        rings[1].push_back(frame * (out - across));
        rings[2].push_back(frame * (out + across));
        rings[3].push_back(frame * (in + across));
    }
    return skin(rings, true);
}

Mesh lobed_plate(double hole, double base, double z, double thickness, std::span<const Lobe> lobes) {
    std::vector<Ring> rings(6);
    const double fillet = 0.12 * base;
    for (double a : lobe_angles(base, lobes)) {
        double radius = base, lobe_reach = 0, rise = 0, tip = base;
        for (const Lobe& lobe : lobes) {
            const double r = lobe_radius(lobe, a);
            if (r > lobe_reach) lobe_reach = r, rise = lobe.rise, tip = lobe.reach;
        }
        const double blend = std::max(fillet - std::abs(base - lobe_reach), 0.0) / fillet;
        radius = std::max(base, lobe_reach) + blend * blend * fillet / 4;
        const double out = tip > base ? std::clamp((radius - base) / (tip - base), 0.0, 1.0) : 0.0;
        const double climb = rise * out;
        const auto at = [&](double r, double height) { return Vec3(r * std::cos(a), r * std::sin(a), z + height); };
        rings[0].push_back(at(hole, -thickness / 2));
        rings[1].push_back(at(base, -thickness / 2));
        rings[2].push_back(at(std::max(radius, base * 1.0001), climb - thickness / 2));
        rings[3].push_back(at(std::max(radius, base * 1.0001), climb + thickness / 2));
        rings[4].push_back(at(base, thickness / 2));
        rings[5].push_back(at(hole, thickness / 2));
    }
    return skin(rings, true);
}

double naca_half_thickness(double x, double thickness) {
    // Last coefficient -0.1036 in place of -0.1015: the usual form with a closed trailing edge.
    return 5 * thickness * (0.2969 * std::sqrt(x) + x * (-0.1260 + x * (-0.3516 + x * (0.2843 - 0.1036 * x))));
}

}  // namespace swashwright::draw
