#include "viewer/draw/lines/distance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/references.h"
#include "viewer/draw/base/proportions.h"
#include "viewer/draw/solids/anchors.h"

namespace swashwright::draw {
namespace {

using At = Place::At;

/// A point; a line through it along `way`; a plane through it square to `way`.
struct Thing {
    enum class Is { point, line, plane };
    Is is = Is::point;
    Vec3 at, way = Vec3::Zero();
};

Thing point_at(const Vec3& at) {
    return {Thing::Is::point, at};
}

std::optional<Thing> placed(const Placement* placement, bool line, const Vec3& at = Vec3::Zero()) {
    if (placement == nullptr) return std::nullopt;
    if (!line) return point_at(*placement * at);
    return Thing{Thing::Is::line, *placement * at, placement->turn.col(2)};
}

std::optional<Thing> face_of(const Place& place, const head::Description& d, const head::Pose& pose) {
    const Frames frames(d, pose, 1);
    const Placement* placement = frames.find(place.frame);
    if (placement == nullptr) return std::nullopt;
    return Thing{Thing::Is::plane, *placement * place.point, placement->turn * place.normal};
}

std::optional<Thing> found(const Place& place, const head::Description& d, const head::Pose& pose) {
    const head::Skeleton& s = pose.skeleton;
    const auto i = static_cast<std::size_t>(place.index);
    const double out = head::spin_sign(d.rotor.direction) * d.rotor.blade_tip_mm;
    switch (place.at) {
        case At::ball:
            if (const Vec3* ball = head::ball_place(s, place.ball)) return point_at(*ball);
            return std::nullopt;
        case At::guide_pin:
            return d.swashplate.guided ? std::optional(point_at(s.guide_pin)) : std::nullopt;
        case At::driver_pin:
            return i < s.driver_pins.size() ? std::optional(point_at(s.driver_pins[i])) : std::nullopt;
        case At::horn_pivot:
        case At::horn_axis:
            return placed(head::place_of(s, {Role::horn, place.index}), place.at == At::horn_axis);
        case At::lever_pivot:
        case At::lever_axis:
            return placed(head::place_of(s, {Role::lever, place.index}), place.at == At::lever_axis);
        case At::tilt_centre:
            return point_at(s.inner_ring.origin);
        case At::hub_middle:
            return point_at(Vec3(0, 0, d.rotor.hub_height_mm));
        case At::blade_tip:
        case At::feathering_axis:
            return placed(head::place_of(s, {Role::grip, place.index}), place.at == At::feathering_axis,
                          place.at == At::blade_tip ? Vec3(0, 0, out) : Vec3(Vec3::Zero()));
        case At::shaft_axis:
            return Thing{Thing::Is::line, Vec3(0, 0, 0), Vec3::UnitZ()};
        case At::face:
            return face_of(place, d, pose);
    }
    return std::nullopt;
}

bool along_each_other(const Vec3& a, const Vec3& b) {
    return std::abs(a.dot(b)) > std::cos(1 * degree);
}
bool square_to_each_other(const Vec3& a, const Vec3& b) {
    return std::abs(a.dot(b)) < std::sin(1 * degree);
}
Vec3 foot_on_line(const Thing& line, const Vec3& p) {
    return line.at + line.way * line.way.dot(p - line.at);
}
Vec3 foot_on_plane(const Thing& plane, const Vec3& p) {
    return p - plane.way * plane.way.dot(p - plane.at);
}

Measured between(const Vec3& a, const Vec3& b, std::string how) {
    return {a, b, (b - a).norm(), std::move(how), false};
}

/// Where two lines come nearest: the common normal of analytic geometry.
Measured between_lines(const Thing& one, const Thing& other) {
    const double c = one.way.dot(other.way), sine2 = 1 - c * c;
    if (sine2 < 1e-12) return between(one.at, foot_on_line(other, one.at), "axis to axis, side by side");
    const Vec3 apart = other.at - one.at;
    const double along = (one.way.dot(apart) - c * other.way.dot(apart)) / sine2;
    const Vec3 a = one.at + along * one.way;
    return between(a, foot_on_line(other, a), "axis to axis, where they come nearest");
}

/// The less of both kinds first.
Measured between_things(const Thing& one, const Thing& other, const std::string& centre) {
    using Is = Thing::Is;
    if (other.is == Is::point) return between(one.at, other.at, centre);
    if (one.is == Is::point && other.is == Is::line)
        return between(one.at, foot_on_line(other, one.at), "centre to axis, square to it");
    if (one.is == Is::point) return between(one.at, foot_on_plane(other, one.at), "centre to face, square to it");
    if (other.is == Is::line) return between_lines(one, other);
    if (one.is == Is::line) {
        if (square_to_each_other(one.way, other.way))
            return between(foot_on_line(one, other.at), foot_on_plane(other, foot_on_line(one, other.at)),
                           "axis to face, square to both");
        return between(foot_on_line(one, other.at), other.at, "axis to the place clicked on the face");
    }
    if (along_each_other(one.way, other.way))
        return between(one.at, foot_on_plane(other, one.at), "face to face, square to both");
    return between(one.at, other.at, "surface to surface, between the places clicked");
}

}  // namespace

std::optional<Measured> measure(const Distance& distance, const head::Description& d, const head::Pose& pose) {
    auto one = found(distance.from, d, pose), other = found(distance.to, d, pose);
    if (!one || !other) return std::nullopt;
    const bool turned = one->is > other->is;
    if (turned) std::swap(one, other);
    const bool centres = distance.from.at <= At::driver_pin && distance.to.at <= At::driver_pin;
    Measured out = between_things(*one, *other, centres ? "centre to centre" : "straight, point to point");
    if (turned) std::swap(out.a, out.b);
    out.drawn = distance.from.at == At::face || distance.to.at == At::face;
    if (!std::isfinite(out.mm)) return std::nullopt;
    return out;
}

std::vector<Place> every_place(const head::Description& d) {
    std::vector<Place> out;
    for (const head::BallName& ball : head::every_ball(d)) out.emplace_back().ball = ball;
    const auto add = [&](At at, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) {
            Place& place = out.emplace_back();
            place.at = at;
            place.index = static_cast<int>(i);
        }
    };
    add(At::guide_pin, d.swashplate.guided ? 1 : 0);
    add(At::driver_pin, d.swashplate.driver_pins.size());
    add(At::horn_pivot, d.servos.size());
    add(At::lever_pivot, d.levers.size());
    add(At::tilt_centre, 1);
    add(At::hub_middle, 1);
    add(At::blade_tip, d.grips.size());
    add(At::shaft_axis, 1);
    add(At::feathering_axis, d.grips.size());
    add(At::horn_axis, d.servos.size());
    add(At::lever_axis, d.levers.size());
    return out;
}

namespace {

/// By the scene's name where it has one.
std::string face_words(const Part& part, const head::Description& d) {
    const auto i = static_cast<std::size_t>(part.index);
    const bool servo = part.index >= 0 && i < d.servos.size() && !d.servos[i].name.empty();
    if (servo && part.role == Role::servo) return head::servo_words(d.servos[i]);
    if (servo && part.role == Role::horn) return "horn of " + head::servo_words(d.servos[i]);
    return name_of(part);
}

}  // namespace

std::string words_of(const Place& place, const head::Description& d) {
    const auto i = static_cast<std::size_t>(place.index);
    const auto servo = [&] { return i < d.servos.size() ? head::servo_words(d.servos[i]) : std::string("servo"); };
    const auto lever = [&] { return i < d.levers.size() ? head::lever_words(d, i) : std::string("lever"); };
    switch (place.at) {
        case At::ball:
            return head::words_of(d, place.ball);
        case At::guide_pin:
            return "guide pin";
        case At::driver_pin:
            return d.swashplate.driver_pins.size() < 2 ? "driver pin" : fmt::format("driver pin {}", i + 1);
        case At::horn_pivot:
            return "pivot of the horn of " + servo();
        case At::lever_pivot:
            return "pivot of " + lever();
        case At::tilt_centre:
            return d.swashplate.tilts ? "tilt centre of the ring" : "middle of the slider";
        case At::hub_middle:
            return "middle of the hub";
        case At::blade_tip:
            return fmt::format("tip of blade {}", i + 1);
        case At::shaft_axis:
            return "axis of the main shaft";
        case At::feathering_axis:
            return fmt::format("feathering axis of blade {}", i + 1);
        case At::horn_axis:
            return "axis of the output shaft of " + servo();
        case At::lever_axis:
            return "axis of " + lever();
        case At::face:
            break;
    }
    return "face of " + face_words(place.part, d);
}

Part part_of(const Place& place, const head::Description& d) {
    switch (place.at) {
        case At::ball:
            return head::part_of(d, place.ball).value_or(Part{});
        case At::guide_pin:
            return {Role::guide, 0};
        case At::driver_pin:
            return {Role::driver, place.index};
        case At::horn_pivot:
        case At::horn_axis:
            return {Role::horn, place.index};
        case At::lever_pivot:
        case At::lever_axis:
            return {Role::lever, place.index};
        case At::tilt_centre:
            return {Role::inner_ring, 0};
        case At::hub_middle:
            return {Role::hub, 0};
        case At::blade_tip:
            return {Role::blade, place.index};
        case At::feathering_axis:
            return {Role::grip, place.index};
        case At::shaft_axis:
            return {Role::shaft, 0};
        case At::face:
            break;
    }
    return place.part;
}

std::optional<Vec3> mark_of(const Place& place, const head::Description& d, const head::Pose& pose) {
    if (place.at == At::shaft_axis) return Vec3(0, 0, proportions_of(d).top);  // its end
    const auto thing = found(place, d, pose);
    return thing && thing->at.allFinite() ? std::optional(thing->at) : std::nullopt;
}

}  // namespace swashwright::draw
