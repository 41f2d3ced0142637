#include "kinematics/studies/live/live_angle.h"

#include <algorithm>
#include <cmath>

#include "kinematics/head/ball_places.h"

namespace swashwright::studies {

namespace {

constexpr const char *of_horn = ".horn_to_link_deg", *of_arm = ".arm_to_link_deg";

}  // namespace

bool is_angle(const std::string& value) {
    return value.ends_with(of_horn) || value.ends_with(of_arm);
}

double seen_deg(const LiveAngle& angle) {
    const Vec3 link = angle.to_link - angle.at, lever = angle.to_axis - angle.at;
    const double deg = std::atan2(link.cross(lever).norm(), link.dot(lever)) / degree;
    return angle.folded ? std::min(deg, 180 - deg) : deg;
}

std::optional<LiveAngle> live_angle(const head::Description& description, const head::Pose& pose,
                                    const std::string& value) {
    if (!is_angle(value)) return std::nullopt;
    const auto part = head::part_of(value.substr(0, value.rfind('.')));
    if (!part || part->index < 0) return std::nullopt;
    const auto index = static_cast<std::size_t>(part->index);
    const bool arm = value.ends_with(of_arm);
    const head::BallName ball = arm ? head::arm_ball(index) : head::horn_ball(index);
    const auto other = head::other_end(description, ball);
    if (!other) return std::nullopt;
    const Vec3 *at = head::ball_place(pose.skeleton, ball), *end = head::ball_place(pose.skeleton, *other);
    const Placement* lever = head::place_of(pose.skeleton, {arm ? head::Role::grip : head::Role::horn, part->index});
    if (at == nullptr || end == nullptr || lever == nullptr) return std::nullopt;
    if (!arm) return LiveAngle{*at, *end, lever->origin, false};
    const Vec3 axis = lever->turn.col(2);
    const Vec3 to_axis = lever->origin + axis * axis.dot(*at - lever->origin) - *at;
    const Vec3 free = axis.cross(to_axis).normalized(), link = *end - *at;  // the way in which the arm's ball can move
    Vec3 below = link - free * free.dot(link);                              // the link, laid into the plane
    if (below.norm() < 1e-9 * link.norm()) below = to_axis;
    if (below.dot(to_axis) < 0) below = -below;
    return LiveAngle{*at, *end, *at + below.normalized() * to_axis.norm(), true};
}

}  // namespace swashwright::studies
