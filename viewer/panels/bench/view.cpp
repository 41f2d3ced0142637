#include "viewer/panels/bench/view.h"

#include <algorithm>
#include <cmath>
#include <utility>

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

}  // namespace

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
