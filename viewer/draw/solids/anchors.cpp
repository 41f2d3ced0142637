#include "viewer/draw/solids/anchors.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace swashwright::draw {
namespace {

template <class T>
std::optional<Vec3> one_of(const std::vector<T>& list, int index, auto&& point) {
    const auto i = static_cast<std::size_t>(index);
    if (index < 0 || i >= list.size()) return std::nullopt;
    return Vec3(point(list[i]));
}

}  // namespace

std::optional<Segment> length_of(const Part& part, const head::Description& d, const head::Pose& pose) {
    if (part.index < 0) return std::nullopt;
    const auto i = static_cast<std::size_t>(part.index);
    const head::Skeleton& s = pose.skeleton;
    if (part.role == Role::horn && i < s.horns.size() && i < s.horn_balls.size()) {
        return Segment{s.horns[i].origin, s.horn_balls[i]};
    }
    if (!is_link(part.role)) return std::nullopt;
    const bool lower = part.role == Role::lower_link, upper = part.role == Role::upper_link;
    const Frames frames(d, pose, 1);
    const Placement* foot = frames.find({lower   ? Ride::lower_foot
                                         : upper ? Ride::upper_foot
                                                 : Ride::link_foot,
                                         part.index});
    const Placement* head = frames.find({lower   ? Ride::lower_head
                                         : upper ? Ride::upper_head
                                                 : Ride::link_head,
                                         part.index});
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
            return one_of(s.horns, part.index, [](const Placement& f) { return f.origin; });
        case Role::grip:
            return one_of(s.grips, part.index, [&](const Placement& f) {
                return f * Vec3(0, 0, sense * 0.5 * (p.grip_start + p.grip_end));
            });
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
        case Role::driver:
            return one_of(s.driver_pins, part.index, [](const Vec3& pin) { return pin; });
        case Role::lever: {
            const auto i = static_cast<std::size_t>(std::max(0, part.index));
            if (i < s.lever_balls.size() && i < s.levers.size() && !s.lever_balls[i].empty())
                return Vec3((s.levers[i].origin + s.lever_balls[i].front()) / 2);  // on its first arm
            return one_of(s.levers, part.index, [](const Placement& f) { return f.origin; });
        }
        case Role::slider:
            return one_of(s.sliders, part.index, [](const Placement& f) { return f.origin; });
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
    switch (part.role) {
        case Role::servo:
        case Role::horn:
        case Role::lower_link:
        case Role::upper_link:
        case Role::grip:
        case Role::blade:
        case Role::lever:
        case Role::slider:
        case Role::other_link:
            return fmt::format("{} {}", name, part.index + 1);
        default:
            return name;
    }
}

std::string title_of(const head::Description& description) {
    return description.name.empty() ? "Unnamed head" : description.name;
}

}  // namespace swashwright::draw
