// Strokes beyond the head itself: the head as it was meant, paths over a turn, cut faces.
#include <algorithm>
#include <array>
#include <cmath>

#include "viewer/draw/base/palette.h"
#include "viewer/draw/lines/strokes.h"

namespace swashwright::draw {
namespace {

bool moves(Role kind) {
    constexpr std::array<Role, 9> moving{Role::inner_ring, Role::outer_ring, Role::lower_link,
                                         Role::upper_link, Role::grip,       Role::blade,
                                         Role::lever,      Role::slider,     Role::other_link};
    return std::ranges::find(moving, kind) != moving.end();
}

/// A closed path in a pattern of lengths on, off, on, off (mm); an empty pattern is a full line.
void stroke_path(const std::vector<Vec3>& points, const std::vector<double>& pattern, std::uint32_t colour, float width,
                 std::vector<Stroke>& strokes) {
    std::size_t piece = 0;
    double left = pattern.empty() ? 1e300 : pattern[0];
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 &from = points[i], &to = points[(i + 1) % points.size()];
        const double length = (to - from).norm();
        for (double at = 0; at < length;) {
            const double end = std::min(length, at + left);
            if (piece % 2 == 0)
                strokes.push_back(
                    stroke(from + (to - from) * (at / length), from + (to - from) * (end / length), colour, width, 3));
            left -= end - at;
            at = end;
            if (left > 1e-9) continue;
            piece = (piece + 1) % pattern.size();
            left = pattern[piece];
        }
    }
}

}  // namespace

void stroke_ghost(const std::vector<Drawn>& drawn, const Frames& frames, const Vec3& eye, const Style& style,
                  std::vector<Stroke>& strokes) {
    const std::uint32_t ink = packed(sheet(style.night).ink);
    for (const Drawn& d : drawn) {
        const Placement* placement = moves(d.part.role) ? frames.find(d.frame) : nullptr;
        if (placement == nullptr) continue;
        const Vec3 local_eye = placement->turn.transpose() * (eye - placement->origin);
        for (const Edge& edge : d.surface.edges) {
            const Vec3 ray = local_eye - edge.a;
            if ((ray.dot(edge.left) > 0) == (ray.dot(edge.right) > 0)) continue;  // outlines only
            strokes.push_back(stroke(*placement * edge.a, *placement * edge.b, ink, -1.2F, 4));
        }
    }
}

void stroke_traces(const Traces& traces, const Proportions& p, const Style& style, std::vector<Stroke>& strokes) {
    const auto put = [&](const Trace& trace, float width, double mm_per_pattern) {
        std::vector<double> pattern;
        for (float length : blade_dash(trace.part.index)) pattern.push_back(length * mm_per_pattern);
        stroke_path(trace.points, pattern, packed(blade_hue(trace.part.index, style.night, true)), width, strokes);
    };
    for (const Trace& trace : traces.balls) put(trace, 1.7F, 0.012 * p.ring);
    for (const Trace& trace : traces.tips) put(trace, 2.0F, 0.03 * p.ring);
}

void stroke_cut(const std::vector<CutLine>& lines, std::uint32_t colour, std::vector<Stroke>& strokes) {
    for (const CutLine& line : lines) strokes.push_back(stroke(line.a, line.b, colour, 1.8F, 2.5F));
}

void cut_strokes(const Plane& plane, std::size_t first, std::vector<Stroke>& strokes) {
    const auto point = [](const float* p) { return Vec3(p[0], p[1], p[2]); };
    const auto set = [](float* p, const Vec3& at) {
        for (int k = 0; k < 3; ++k) p[k] = static_cast<float>(at[k]);
    };
    for (std::size_t i = first; i < strokes.size(); ++i) {
        const Vec3 a = point(strokes[i].a), b = point(strokes[i].b);
        const double from = plane.height_of(a), to = plane.height_of(b);
        if (from <= 0 && to <= 0) continue;
        if (from > 0 && to > 0) {
            strokes[i].colour = 0;  // left out below
            continue;
        }
        set(from > 0 ? strokes[i].a : strokes[i].b, a + (b - a) * (from / (from - to)));
    }
    const auto gone = [](const Stroke& s) { return s.colour == 0; };
    strokes.erase(std::remove_if(strokes.begin() + static_cast<std::ptrdiff_t>(first), strokes.end(), gone),
                  strokes.end());
}

}  // namespace swashwright::draw
