#include "viewer/panels/bench/view.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/inventory.h"
#include "kinematics/head/references.h"

namespace swashwright::panels {

namespace {

double ease(double t) {
    return t * t * (3 - 2 * t);
}

draw::Camera between(const draw::Camera& a, const draw::Camera& b, double t) {
    draw::Camera out = b;
    out.target = a.target + t * (b.target - a.target);
    out.view_deg = a.view_deg + t * (b.view_deg - a.view_deg);
    out.distance_mm = a.distance_mm + t * (b.distance_mm - a.distance_mm);
    out.azimuth_deg = a.azimuth_deg + t * std::remainder(b.azimuth_deg - a.azimuth_deg, 360.0);
    out.height_deg = a.height_deg + t * (b.height_deg - a.height_deg);
    return out;
}

/// Of the parts of a role, and last of all balls.
std::size_t number_of(const head::Description& d, std::optional<head::Role> role) {
    if (!role) return head::every_ball(d).size();
    return *role == head::Role::driver ? d.swashplate.driver_pins.size() : head::count_of(d, *role);
}

}  // namespace

void forget_renumbered(View& view, const head::Description& before, const head::Description& after, bool put_back) {
    const auto renumbered = [&](std::optional<head::Role> role) {
        const std::size_t was = number_of(before, role), is = number_of(after, role);
        return is < was || (put_back && is > was);
    };
    std::erase_if(view.hidden, [&](const draw::Part& part) { return renumbered(part.role); });
    bool any = renumbered(std::nullopt);
    for (const head::Role role : {head::Role::lever, head::Role::slider, head::Role::driver, head::Role::blade})
        any = any || renumbered(role);
    for (const head::PartName& link : head::links_of(before)) any = any || renumbered(link.role);
    for (const head::PartName& link : head::links_of(after)) any = any || renumbered(link.role);
    if (any) view.distances.clear();
}

void move_camera(const Screen& screen, View& view, const draw::Camera& to) {
    if (screen.settings.camera_moves)
        view.move = CameraMove{view.camera, to};
    else
        view.camera = to;
}

void advance(View& view, double seconds) {
    auto& move = view.move;
    if (!move) return;
    move->seconds += seconds;
    const double t = std::min(1.0, move->seconds / camera_seconds);
    view.camera = between(move->from, move->to, ease(t));
    if (t >= 1) view.camera = std::exchange(move, std::nullopt)->to;
}

void mind_the_pace(View& view, bool moves, double seconds) {
    view.frame_seconds = moves ? view.frame_seconds + 0.1 * (std::min(seconds, 0.1) - view.frame_seconds) : 0;
    view.flat_hollows = moves && (view.flat_hollows || view.frame_seconds > 1 / 30.0);
}

}  // namespace swashwright::panels
