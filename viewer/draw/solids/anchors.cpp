#include "viewer/draw/solids/anchors.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "kinematics/head/ball_places.h"
#include "viewer/draw/solids/ball_ends.h"

namespace swashwright::draw {
namespace {

std::optional<Vec3> origin_of(const Placement* part) {
    return part != nullptr ? std::optional(part->origin) : std::nullopt;
}

}  // namespace

std::optional<Segment> length_of(const Part& part, const head::Description& d, const head::Pose& pose) {
    if (part.index < 0) return std::nullopt;
    if (part.role == Role::horn) {
        const Placement* horn = place_of(pose.skeleton, part);
        const auto balls = balls_on(pose.skeleton, part);
        if (horn != nullptr && !balls.empty()) return Segment{horn->origin, balls.front()};
    }
    if (!is_link(part.role)) return std::nullopt;
    const Frames frames(d, pose, 1);
    const auto ends = ends_ride_on(part.role);
    const Placement* foot = frames.find({ends[0], part.index});
    const Placement* head = frames.find({ends[1], part.index});
    if (foot == nullptr || head == nullptr) return std::nullopt;
    return Segment{foot->origin, head->origin};
}

std::optional<Vec3> anchor_of(const Part& part, const head::Description& d, const head::Pose& pose,
                              const Style& style) {
    if (const auto length = length_of(part, d, pose)) return Vec3((length->a + length->b) / 2);
    const Proportions p = proportions_of(d);
    const head::Skeleton& s = pose.skeleton;
    const double sense = head::spin_sign(d.rotor.direction);
    switch (part.role) {
        case Role::servo:
            return origin_of(place_of(s, {Role::horn, part.index}));
        case Role::grip: {
            const Placement* grip = place_of(s, part);
            if (grip == nullptr) return std::nullopt;
            return Vec3(*grip * Vec3(0, 0, sense * 0.5 * (p.grip_start + p.grip_end)));
        }
        case Role::blade: {
            const double end = style.whole_blades ? p.blade_end : p.stub_end;
            const Frames frames(d, pose, style.exaggeration);
            const Placement* blade = frames.find({Ride::blade, part.index});
            if (blade == nullptr) return std::nullopt;
            return Vec3(*blade * Vec3(0, 0, sense * (end - 0.25 * p.chord)));
        }
        case Role::inner_ring:
            return s.inner_ring * Vec3(0.8 * p.inner_base, 0, p.inner_height);
        case Role::outer_ring:
            return s.outer_ring * Vec3(0.8 * p.outer_base, 0, p.outer_height);
        case Role::guide:
            return s.guide_pin;
        case Role::driver: {
            const auto i = static_cast<std::size_t>(part.index);
            return part.index >= 0 && i < s.driver_pins.size() ? std::optional(s.driver_pins[i]) : std::nullopt;
        }
        case Role::lever: {
            const Placement* lever = place_of(s, part);
            const auto balls = balls_on(s, part);
            if (lever != nullptr && !balls.empty())
                return Vec3((lever->origin + balls.front()) / 2);  // on its first arm
            return origin_of(lever);
        }
        case Role::slider:
            return origin_of(place_of(s, part));
        case Role::hub:
            return Vec3(0, 0, d.rotor.hub_height_mm);
        case Role::shaft:
            return Vec3(0, 0, p.top);
        default:
            return Vec3(0, 0, p.ground);
    }
}

std::string name_of(const Part& part) {
    static constexpr std::array<const char*, 16> names{
        "frame",  "shaft",      "servo", "horn", "lower link", "inner ring", "guide",  "outer ring",
        "driver", "upper link", "hub",   "grip", "blade",      "lever",      "slider", "link"};
    const char* name = names.at(static_cast<std::size_t>(part.role));
    return head::is_numbered(part.role) ? fmt::format("{} {}", name, part.index + 1) : name;
}

std::string title_of(const head::Description& description) {
    return description.name.empty() ? "Unnamed head" : description.name;
}

}  // namespace swashwright::draw
