#include "viewer/draw/lines/handles.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/references.h"
#include "viewer/draw/base/proportions.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {
namespace {

using Of = Handle::Of;

void add_pitch(int blade, const head::Description& d, const head::Pose& pose, const Style& style,
               std::vector<Handle>& out) {
    const Frames frames(d, pose, style.exaggeration);
    const Placement* placement = frames.find({Ride::blade, blade});
    if (placement == nullptr) return;
    const Proportions p = proportions_of(d);
    const double end = style.whole_blades ? p.blade_end : p.stub_end, nose = 0.3 * p.chord;
    const double along = head::spin_sign(d.rotor.direction) * (end - 0.06 * p.chord);
    out.push_back({Of::pitch, blade, *placement * Vec3(nose, 0, along), true, placement->origin, placement->turn.col(2),
                   fmt::format("leading edge of blade {}", blade + 1)});
}

void add_ring(const head::Description& d, const head::Pose& pose, std::vector<Handle>& out) {
    const Proportions p = proportions_of(d);
    const Placement& ring = pose.skeleton.inner_ring;
    const Vec3 normal = ring.turn.col(2), above = ring * Vec3(0, 0, p.outer_height);
    constexpr std::array<std::pair<int, const char*>, 4> sides{
        {{0, "rim at the nose"}, {90, "rim on the left"}, {180, "rim at the tail"}, {270, "rim on the right"}}};
    if (d.swashplate.tilts)
        for (const auto& [azimuth, words] : sides) {
            const double a = azimuth * degree;
            const Vec3 out_there = ring.turn * Vec3(std::cos(a), std::sin(a), 0);
            out.push_back({Of::tilt, azimuth, above + 1.12 * p.outer_base * out_there, true, ring.origin,
                           out_there.cross(normal), words});
        }
    out.push_back({Of::height, 0, above, false, ring.origin, Vec3::UnitZ(),
                   d.swashplate.tilts ? "middle of the ring" : "middle of the slider"});
}

void add_turning(Of of, const Part& part, const head::Pose& pose, std::string words, std::vector<Handle>& out) {
    const Placement* placement = place_of(pose.skeleton, part);
    const auto balls = balls_on(pose.skeleton, part);
    if (placement == nullptr || balls.empty()) return;
    out.push_back({of, part.index, balls.front(), true, placement->origin, placement->turn.col(2), std::move(words)});
}

}  // namespace

Vec3 Handle::moved(double by) const {
    if (!turns) return at + by * way;
    return origin + Eigen::AngleAxisd(by * degree, way) * (at - origin);
}

std::vector<Handle> handles_of(const Part& part, const head::Description& d, const head::Pose& pose,
                               const Style& style) {
    std::vector<Handle> out;
    const auto i = static_cast<std::size_t>(std::max(0, part.index));
    switch (part.role) {
        case Role::blade:
        case Role::grip:
            add_pitch(part.index, d, pose, style, out);
            break;
        case Role::inner_ring:
        case Role::outer_ring:
            add_ring(d, pose, out);
            break;
        case Role::servo:
        case Role::horn:
            if (i < d.servos.size())
                add_turning(Of::horn, {Role::horn, part.index}, pose, "horn of " + head::servo_words(d.servos[i]), out);
            break;
        case Role::lever:
            if (i < d.levers.size() && d.levers[i].by_hand_deg)
                add_turning(Of::hand, part, pose, head::lever_words(d, i), out);
            break;
        default:
            break;
    }
    std::erase_if(out, [](const Handle& h) { return !h.at.allFinite() || !h.way.allFinite(); });
    return out;
}

std::optional<Handle> handle_near(const std::vector<Handle>& handles, const Camera& camera, const Viewport& viewport,
                                  double x, double y, double reach) {
    const Handle* found = nullptr;
    double nearest = reach;
    for (const Handle& handle : handles) {
        const glm::dvec3 at = camera.project(handle.at, viewport);
        const double away = std::hypot(at.x - x, at.y - y);
        if (at.z <= 1 && away <= nearest) nearest = away, found = &handle;
    }
    return found != nullptr ? std::optional(*found) : std::nullopt;
}

double dragged_to(const Handle& handle, const Camera& camera, const Viewport& viewport, double x, double y) {
    const double most = handle.turns ? 90 : 1000, little = handle.turns ? 0.01 : 1e-3;
    const double arm = handle.turns ? handle.way.cross(handle.at - handle.origin).norm() * degree : 1;
    const double pixels = arm * camera.pixels_per_mm(handle.at, viewport);  // for each unit, seen square on
    if (!(pixels > 0)) return 0;
    const auto seen = [&](double by) {
        const glm::dvec3 at = camera.project(handle.moved(by), viewport);
        return glm::dvec2(at.x, at.y);
    };
    const auto way = [&](double by) { return (seen(by + little) - seen(by - little)) / (2 * little); };
    const glm::dvec2 wanted(x, y), left = wanted - seen(0), first = way(0);
    constexpr double end_on = 0.3;  // of what it is square on
    if (!(glm::length(first) >= end_on * pixels)) {
        const double up = std::clamp(-left.y / pixels, -most, most);
        return std::isfinite(up) ? up : 0;
    }
    const double sign = glm::dot(left, first) < 0 ? -1 : 1;
    const auto nears = [&](double by) {
        const glm::dvec2 on = sign * way(sign * by);
        return glm::dot(wanted - seen(sign * by), on) > 0 && glm::dot(left, on) > 0;
    };
    // On that side, as far as the way goes on towards the pointer and brings it nearer: a pointer beyond all of it
    // finds the same end however far it is.
    double near = 0, far = 0;
    const double stride = handle.turns ? 3 : glm::length(left) / glm::length(first) / 4;
    while (near == far && far < most) {
        far = std::min(most, far + std::max(stride, little));
        if (nears(far)) near = far;
    }
    for (int halving = 0; halving < 50 && far - near > 1e-9; ++halving) {
        const double middle = (near + far) / 2;
        (nears(middle) ? near : far) = middle;
    }
    return sign * near;
}

}  // namespace swashwright::draw
