#include "viewer/draw/overlay/angles.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace swashwright::draw {

namespace {

/// The arc as drawn, from one leg to the other; empty if some of it is behind the eye.
std::vector<ImVec2> arc_of(const Pen& pen, const Vec3& at, const Vec3& one, const Vec3& other, double radius) {
    constexpr int steps = 32;
    const double whole = std::atan2(one.cross(other).norm(), one.dot(other));
    const Vec3 across = one.cross(other).cross(one).normalized();
    std::vector<ImVec2> arc;
    for (int k = 0; k <= steps; ++k) {
        const double a = whole * k / steps;
        const auto point = pen.at(at + radius * (std::cos(a) * one + std::sin(a) * across));
        if (!point) return {};
        arc.push_back(*point);
    }
    return arc;
}

}  // namespace

void draw_angle(const Pen& pen, const AngleMark& angle, std::vector<NameBox>& taken) {
    const Vec3 leg = angle.one - angle.at, lever = angle.other - angle.at;
    if (!(leg.norm() > 1e-6) || !(lever.norm() > 1e-6)) return;
    const Vec3 one = leg.normalized();
    const bool back = angle.folded && leg.dot(lever) < 0;
    const Vec3 other = (back ? -1 : 1) * lever.normalized();
    const double radius = std::clamp(0.75 * lever.norm(), 0.2 * leg.norm(), 0.6 * leg.norm());
    const auto at = pen.at(angle.at), from = pen.at(angle.at + 1.3 * radius * one),
               to = pen.at(angle.at + 1.3 * radius * other);
    const std::vector<ImVec2> arc = arc_of(pen, angle.at, one, other, radius);
    if (!at || !from || !to || arc.size() < 3) return;
    // On lit parts, which have the accent, only ink on paper is seen.
    const ImU32 ink = packed(pen.colours.ink), paper = packed(pen.colours.paper, 0.8F);
    for (const auto& [colour, more] : {std::pair{paper, 3.0F}, {ink, 0.0F}}) {
        pen.list.AddLine(*at, *from, colour, (1.3F + more) * pen.scale);
        pen.list.AddLine(*at, *to, colour, (1.3F + more) * pen.scale);
        pen.list.AddPolyline(arc.data(), static_cast<int>(arc.size()), colour, 0, (2 + more) * pen.scale);
    }
    pen.arrow_head(arc[2], arc[0], ink);
    pen.arrow_head(arc[arc.size() - 3], arc.back(), ink);

    // The value stands outside the arc, on the line that halves the angle.
    const ImVec2 middle = arc[arc.size() / 2], size = ImGui::CalcTextSize(angle.words.c_str());
    const float run = std::max(1.0F, std::hypot(middle.x - at->x, middle.y - at->y));
    const ImVec2 way((middle.x - at->x) / run, (middle.y - at->y) / run);
    const float off = 8 * pen.scale + 0.5F * (std::abs(way.x) * size.x + std::abs(way.y) * size.y);
    const ImVec2 low =
        pen.kept_inside({middle.x + way.x * off - size.x / 2, middle.y + way.y * off - size.y / 2}, size);
    pen.backing(low, {low.x + size.x, low.y + size.y});
    pen.list.AddText({std::round(low.x), std::round(low.y)}, packed(pen.colours.ink), angle.words.c_str());
    taken.push_back({{low.x, low.y}, {low.x + size.x, low.y + size.y}});
}

}  // namespace swashwright::draw
