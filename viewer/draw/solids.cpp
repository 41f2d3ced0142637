#include "viewer/draw/solids.h"

#include <algorithm>

#include "viewer/draw/bench.h"

namespace swashwright::draw {

void Bench::add_ball(Part part, Frame frame, const Vec3& centre, const Vec3& root) {
    add(part, frame, Tone::bright, ball(centre, p.ball, centre - root));
    if ((centre - root).norm() > 1e-6) add(part, frame, Tone::steel, rod(root, centre, 0.5 * p.ball, 10));
}

std::vector<Solid> solids_of(const head::Description& description, bool whole_blades) {
    Bench bench{description, proportions_of(description), head::spin_sign(description.rotor.direction), {}};
    add_mast(bench);
    add_servos(bench);
    add_rings(bench);
    add_links(bench);
    add_hub(bench);
    add_grips(bench);
    add_users(bench);
    add_blades(bench, whole_blades);
    // A number that is not finite makes a mesh that cannot be drawn; leaving it out keeps the rest of the picture.
    std::erase_if(bench.made, [](const Solid& solid) {
        return !std::ranges::all_of(solid.mesh.points, [](const Vec3& p) { return p.allFinite(); });
    });
    return std::move(bench.made);
}

Extent extent_of(const head::Description& description, bool whole_blades) {
    const Proportions p = proportions_of(description);
    double reach = p.bolt_out;
    for (const auto& servo : description.servos) {
        const Vec3 pivot = head::pivot_point(servo.pivot_mm);
        if (pivot.allFinite()) reach = std::max(reach, std::hypot(pivot.x(), pivot.y()) + p.horn);
    }
    const double half = 0.5 * (p.top - p.ground);
    return {Vec3(0, 0, p.ground + half), whole_blades ? p.blade_end : 1.03 * std::hypot(half, reach)};
}

}  // namespace swashwright::draw
