#include "viewer/draw/lines/strokes.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "viewer/draw/base/palette.h"

namespace swashwright::draw {
namespace {

// An outline must clear the bulge of the surface inside it.
constexpr float outline_lift = 2.4F;

/// A centre line: long and short dashes, as technical drawings have them.
void stroke_centre_line(const Vec3& from, const Vec3& to, double dash, std::uint32_t colour,
                        std::vector<Stroke>& strokes) {
    const double length = (to - from).norm();
    if (!(length > 0) || !(dash > 0)) return;
    const Vec3 along = (to - from) / length;
    for (double at = 0; at < length; at += 1.6 * dash) {
        strokes.push_back(stroke(from + along * at, from + along * std::min(at + dash, length), colour, 0.9F));
        if (at + 1.25 * dash > length) break;
        strokes.push_back(
            stroke(from + along * (at + 1.25 * dash), from + along * std::min(at + 1.35 * dash, length), colour, 0.9F));
    }
}

double protractor_radius(const Proportions& p) {
    return std::max(p.fork_end + 0.35 * p.chord, 2.9 * p.ring);
}

void stroke_protractor(const Proportions& p, std::uint32_t colour, std::vector<Stroke>& strokes) {
    const double radius = protractor_radius(p), tick = 0.07 * radius;
    const auto at = [&](double r, double deg) {
        return Vec3(r * std::cos(deg * degree), r * std::sin(deg * degree), p.ground);
    };
    for (int deg = 0; deg < 360; deg += 5) {
        strokes.push_back(stroke(at(radius, deg), at(radius, deg + 5), colour, 1.0F));
        if (deg % 10 != 0) continue;
        const double inner = radius - tick * (deg % 90 == 0 ? 2.2 : deg % 30 == 0 ? 1.4 : 0.7);
        strokes.push_back(stroke(at(inner, deg), at(radius, deg), colour, 1.0F));
    }
    // The nose: an arrow head outside the ring.
    const Vec3 tip = at(radius + 2.4 * tick, 0);
    for (double side : {-1.0, 1.0}) {
        strokes.push_back(stroke(tip, at(radius + 0.5 * tick, 3.2 * side), colour, 1.3F));
    }
    strokes.push_back(stroke(at(radius + 0.5 * tick, -3.2), at(radius + 0.5 * tick, 3.2), colour, 1.3F));
}

}  // namespace

Stroke stroke(const Vec3& a, const Vec3& b, std::uint32_t colour, float width, float lift) {
    const Eigen::Vector3f from = a.cast<float>(), to = b.cast<float>();
    return {{from.x(), from.y(), from.z()}, {to.x(), to.y(), to.z()}, colour, width, lift};
}

std::vector<Drawn> drawn_from(const std::vector<Solid>& solids) {
    std::vector<Drawn> drawn;
    drawn.reserve(solids.size());
    for (const Solid& solid : solids) {
        drawn.push_back({solid.part, solid.frame, solid.tone, surface_of(solid.mesh), box_of(solid.mesh)});
    }
    return drawn;
}

std::vector<SeamLines> seams_between(const std::vector<Solid>& solids) {
    std::vector<SeamLines> all;
    std::vector<Box> boxes;
    for (const Solid& solid : solids) boxes.push_back(box_of(solid.mesh));
    for (std::size_t i = 0; i < solids.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            if (solids[i].frame != solids[j].frame || !boxes[i].meets(boxes[j])) continue;
            auto edges = seams(solids[j].mesh, solids[i].mesh);
            if (!edges.empty()) all.push_back({solids[i].part, solids[i].frame, std::move(edges)});
        }
    }
    return all;
}

void stroke_edges(const Drawn& drawn, const Placement& placement, const Vec3& eye, std::uint32_t outline,
                  std::uint32_t crease, float weight, std::vector<Stroke>& strokes) {
    const Vec3 local_eye = placement.turn.transpose() * (eye - placement.origin);
    for (const Edge& edge : drawn.surface.edges) {
        const Vec3 ray = local_eye - edge.a;
        const bool left = ray.dot(edge.left) > 0, right = ray.dot(edge.right) > 0;
        if (!left && !right) continue;
        if (left == right && !edge.crease) continue;
        const bool silhouette = left != right;
        strokes.push_back(stroke(placement * edge.a, placement * edge.b, silhouette ? outline : crease,
                                 (silhouette ? 1.55F : 0.9F) * weight, silhouette ? outline_lift : crease_lift));
    }
}

void stroke_seams(const SeamLines& lines, const Placement& placement, const Vec3& eye, std::uint32_t colour,
                  std::vector<Stroke>& strokes) {
    const Vec3 local_eye = placement.turn.transpose() * (eye - placement.origin);
    for (const Edge& edge : lines.edges) {
        // A seam lies in a hollow: it is hidden as soon as one of its faces looks away.
        const Vec3 ray = local_eye - edge.a;
        if (ray.dot(edge.left) <= 0 || ray.dot(edge.right) <= 0) continue;
        strokes.push_back(stroke(placement * edge.a, placement * edge.b, colour, 0.9F));
    }
}

void stroke_construction(const head::Description& d, const Proportions& p, const head::Pose& pose, const Style& style,
                         std::vector<Stroke>& strokes) {
    const std::uint32_t faint = packed(sheet(style.night).faint);
    stroke_protractor(p, faint, strokes);
    const double dash = 0.35 * p.ring;
    stroke_centre_line({0, 0, p.top + 0.1 * p.ring}, {0, 0, p.top + 0.9 * p.ring}, dash, faint, strokes);
    const double end = style.whole_blades ? p.blade_end : p.stub_end;
    const double sense = head::spin_sign(d.rotor.direction);
    const double mean = pose.pitch_deg.empty() ? 0
                                               : std::accumulate(pose.pitch_deg.begin(), pose.pitch_deg.end(), 0.0) /
                                                     static_cast<double>(pose.pitch_deg.size());
    const std::size_t blades = std::min({pose.skeleton.grips.size(), pose.pitch_deg.size(), d.grips.size()});
    for (std::size_t k = 0; k < blades; ++k) {
        const Placement& grip = pose.skeleton.grips[k];
        const auto at = [&](double out, double lead) { return Vec3(lead, 0, sense * out); };
        if (style.section_deg && plane_towards(*style.section_deg).height_of(grip * at(end, 0)) > 1) continue;
        stroke_centre_line(grip * at(end + 0.1 * p.chord, 0), grip * at(end + 0.8 * p.chord, 0), dash, faint, strokes);
        if (style.exaggeration == 1) continue;
        Placement level = grip;  // where the blade would be at the mean pitch
        level.turn = grip.turn * turn_about_z((d.grips[k].pitch_offset_deg - pose.pitch_deg[k] + mean) * degree);
        stroke_centre_line(level * at(end, 0.5 * p.chord), level * at(end, -0.95 * p.chord), 0.5 * dash,
                           packed(sheet(style.night).ink), strokes);
    }
}

}  // namespace swashwright::draw
