#include "viewer/draw/solids/section.h"

#include <array>
#include <cmath>

namespace swashwright::draw {

Plane plane_towards(double azimuth_deg) {
    const double a = azimuth_deg * degree;
    return {Vec3(std::cos(a), std::sin(a), 0), 0};
}

Plane seen_from(const Plane& plane, const Placement& placement) {
    return {placement.turn.transpose() * plane.normal, plane.offset - plane.normal.dot(placement.origin)};
}

std::vector<CutLine> cut_lines(const std::vector<Vertex>& vertices, const std::vector<int>& triangles,
                               const Plane& plane) {
    std::vector<CutLine> lines;
    std::vector<double> heights;
    heights.reserve(vertices.size());
    // A corner in the plane counts as beyond it; both triangles at an edge see the same height, so loops stay closed.
    for (const Vertex& v : vertices) heights.push_back(plane.height_of(v.point));
    for (std::size_t t = 0; t + 2 < triangles.size(); t += 3) {
        const std::array<int, 3> corner{triangles[t], triangles[t + 1], triangles[t + 2]};
        std::array<bool, 3> beyond{};
        for (std::size_t k = 0; k < 3; ++k) beyond[k] = heights[corner[k]] >= 0;
        if (beyond[0] == beyond[1] && beyond[1] == beyond[2]) continue;
        CutLine line;
        for (std::size_t k = 0; k < 3; ++k) {
            const std::size_t next = (k + 1) % 3;
            if (beyond[k] == beyond[next]) continue;
            // From the lower corner always, so that neighbours get the same point to the last bit.
            const int low = beyond[k] ? corner[next] : corner[k], high = beyond[k] ? corner[k] : corner[next];
            const Vec3 &from = vertices[low].point, &to = vertices[high].point;
            const Vec3 at = from + (to - from) * (heights[low] / (heights[low] - heights[high]));
            (beyond[k] ? line.a : line.b) = at;
        }
        lines.push_back(line);
    }
    return lines;
}

double cut_area(const std::vector<CutLine>& lines, const Plane& plane) {
    if (lines.empty()) return 0;
    double twice = 0;
    const Vec3 base = lines.front().a;
    for (const CutLine& line : lines) twice += plane.normal.dot((line.a - base).cross(line.b - base));
    return std::abs(twice) / 2;
}

}  // namespace swashwright::draw
