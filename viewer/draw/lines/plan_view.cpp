#include "viewer/draw/lines/plan_view.h"

#include <algorithm>

#include "viewer/draw/lines/cut_away.h"

namespace swashwright::draw {
namespace {

/// The farthest point in each of 26 directions: to the faces, edges and corners of a cube.
std::vector<Vec3> outermost(const std::vector<Vertex>& vertices) {
    std::vector<Vec3> out;
    for (int k = 0; k < 27; ++k) {
        const Vec3 way(k % 3 - 1, k / 3 % 3 - 1, k / 9 - 1);  // NOLINT(bugprone-integer-division): digits to base 3
        if (way.isZero()) continue;
        const auto farthest = std::ranges::max_element(
            vertices, {}, [direction = Vec3(way.normalized())](const Vertex& v) { return direction.dot(v.point); });
        if (std::ranges::find(out, farthest->point) == out.end()) out.push_back(farthest->point);
    }
    return out;
}

double turn(const Vec3& a, const Vec3& b, const Vec3& c) {
    return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
}

/// Anticlockwise outline in x and y (the monotone chain of Andrew, 1979).
std::vector<Vec3> outline(std::vector<Vec3> points) {
    std::ranges::sort(points,
                      [](const Vec3& a, const Vec3& b) { return a.x() < b.x() || (a.x() == b.x() && a.y() < b.y()); });
    std::vector<Vec3> out;
    const auto chain = [&](const auto& run) {
        const std::size_t first = out.size();
        for (const Vec3& p : run) {
            while (out.size() >= first + 2 && turn(out[out.size() - 2], out.back(), p) <= 0) out.pop_back();
            out.push_back(p);
        }
        out.pop_back();  // the other chain begins with it
    };
    chain(points);
    std::ranges::reverse(points);
    chain(points);
    return out;
}

/// What of a convex outline lies on the near side of an upright plane.
std::vector<Vec3> short_of(const Plane& plane, const std::vector<Vec3>& outline) {
    std::vector<Vec3> out;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vec3 &a = outline[i], &b = outline[(i + 1) % outline.size()];
        const double from = plane.height_of(a), to = plane.height_of(b);
        if (from <= 0) out.push_back(a);
        if ((from <= 0) != (to <= 0)) out.push_back(a + (b - a) * (from / (from - to)));
    }
    return out;
}

}  // namespace

std::vector<Caster> casters_of(const std::vector<Drawn>& drawn) {
    std::vector<Caster> casters;
    for (const Drawn& d : drawn) {
        if (d.tone == Tone::bright || d.tone == Tone::thread || d.surface.vertices.empty()) continue;
        casters.push_back({d.frame, uncut(d.part), outermost(d.surface.vertices)});
    }
    return casters;
}

std::vector<float> plan_view(const std::vector<Caster>& casters, const Frames& frames,
                             const std::optional<Plane>& cut) {
    std::vector<float> numbers;
    std::vector<Vec3> points;
    for (const Caster& caster : casters) {
        const Placement* placement = frames.find(caster.frame);
        if (placement == nullptr) continue;
        points.clear();
        for (const Vec3& corner : caster.corners) points.push_back(*placement * corner);
        const std::vector<Vec3> edge = cut && !caster.whole ? short_of(*cut, outline(points)) : outline(points);
        for (std::size_t i = 2; i < edge.size(); ++i) {
            for (const Vec3* p : {edge.data(), &edge[i - 1], &edge[i]}) {
                for (int k = 0; k < 3; ++k) numbers.push_back(static_cast<float>((*p)[k]));
            }
        }
    }
    return numbers;
}

}  // namespace swashwright::draw
