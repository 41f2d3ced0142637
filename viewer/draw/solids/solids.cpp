#include "viewer/draw/solids/solids.h"

#include <algorithm>
#include <array>

#include "viewer/draw/solids/solid_maker.h"

namespace swashwright::draw {

void SolidMaker::add_ball(Part part, Frame frame, const Vec3& centre, const Vec3& root) {
    add(part, frame, Tone::bright, ball(centre, p.ball, centre - root));
    if ((centre - root).norm() > 1e-6) add(part, frame, Tone::steel, rod(root, centre, 0.5 * p.ball, 10));
}

void SolidMaker::add_socket(Part part, Frame frame, const Placement& axis) {
    const double r = p.ball;
    const std::array<Turned, 6> socket{{{1.0 * r, -0.74 * r},
                                        {1.52 * r, -0.74 * r},
                                        {1.68 * r, -0.45 * r},
                                        {1.68 * r, 0.45 * r},
                                        {1.52 * r, 0.74 * r},
                                        {1.0 * r, 0.74 * r}}};
    add(part, frame, Tone::dark, lathe(axis, socket, 20, true));
}

void SolidMaker::add_screw_head(Part part, Frame frame, const Vec3& from, const Vec3& to, double radius) {
    const double height = (to - from).norm();
    const std::array<Turned, 4> profile{
        {{radius, 0}, {radius, height}, {0.54 * radius, height}, {0.5 * radius, 0.4 * height}}};
    add(part, frame, Tone::steel, lathe(frame_at(from, to - from, Vec3::UnitX()), profile, 12));
}

void SolidMaker::add_bearing(Part part, Frame frame, double height, double inner, double outer, double half_width) {
    if (!inside) {
        const Vec3 half(0, 0, half_width), centre(0, 0, height);
        add(part, frame, Tone::dark, tube(centre - half, centre + half, inner, outer));
        return;
    }
    const double room = outer - inner, middle = (inner + outer) / 2;
    const double radius = std::min(0.32 * room, 0.85 * half_width);
    const Placement axis{Mat3::Identity(), Vec3(0, 0, height)};
    // Each race has a groove in which the balls run.
    for (const double side : {-1.0, 1.0}) {
        std::vector<Turned> race{{middle + side * room / 2, half_width}, {middle + side * room / 2, -half_width}};
        const double land = middle + side * 0.2 * room, groove = std::asin(std::min(1.0, 0.2 * room / radius));
        race.push_back({land, -half_width});
        for (const double share : {-0.999, -0.5, 0.0, 0.5, 0.999}) {
            const double a = share * (pi / 2 - groove);
            race.push_back({middle + side * 1.03 * radius * std::cos(a), 1.03 * radius * std::sin(a)});
        }
        race.push_back({land, half_width});
        add(part, frame, Tone::steel, lathe(axis, race, 28, true));
    }
    const int count = std::min(22, static_cast<int>(2 * pi * middle / (2.5 * radius)));
    std::vector<Turned> half;  // small and many: a few sides will do
    for (const double deg : {-68.0, -23.0, 23.0, 68.0})
        half.push_back({radius * std::cos(deg * degree), radius * std::sin(deg * degree)});
    for (int k = 0; k < count; ++k) {
        const Placement place{Mat3::Identity(), around(middle, 2 * pi * k / count, height)};
        add(part, frame, Tone::bright, lathe(place, half, 10));
    }
}

std::vector<Solid> solids_of(const head::Description& description, bool whole_blades, bool inside) {
    SolidMaker maker{
        description, proportions_of(description), head::spin_sign(description.rotor.direction), inside, {}};
    add_mast(maker);
    add_servos(maker);
    add_rings(maker);
    add_links(maker);
    add_levers(maker);
    add_hub(maker);
    add_grips(maker);
    add_scene_solids(maker);
    add_blades(maker, whole_blades);
    // A number that is not finite makes a mesh that cannot be drawn; leaving it out keeps the rest of the picture.
    std::erase_if(maker.made, [](const Solid& solid) {
        return !std::ranges::all_of(solid.mesh.points, [](const Vec3& p) { return p.allFinite(); });
    });
    return std::move(maker.made);
}

Extent extent_of(const head::Description& description, bool whole_blades) {
    const Proportions p = proportions_of(description);
    double reach = p.bolt_out;
    for (const auto& servo : description.servos) {
        const Vec3 pivot = head::pivot_point(servo.pivot_mm);
        if (pivot.allFinite()) reach = std::max(reach, std::hypot(pivot.x(), pivot.y()) + p.horn);
    }
    const double half = 0.5 * (p.top - p.ground);
    for (const head::Lever& lever : description.levers)
        if (lever.on.on == head::Carrier::On::frame && lever.pivot_mm.allFinite())
            reach = std::max(reach, std::hypot(lever.pivot_mm.x(), lever.pivot_mm.y()) + p.horn);
    return {Vec3(0, 0, p.ground + half), whole_blades ? p.blade_end : 1.03 * std::hypot(half, reach)};
}

}  // namespace swashwright::draw
