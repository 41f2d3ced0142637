// What each reading would be on a head of given numbers: one formula for values and for exact derivatives (T is a
// double or an automatic-differentiation scalar). Internal to measured_head.
#pragma once

#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "kinematics/linkage/geometry.h"
#include "kinematics/studies/measured/measured_readings.h"

namespace swashwright::studies::measured {

/// The unknowns, mm. Heights of the head in the head frame, of balls and faces along the ring's normal from its tilt
/// centre. From `horn` on there are several of each.
enum class Unknown {
    ball,
    shaft,
    cross_bolt,
    barrel,
    boss_lower,
    boss_upper,  // diameters
    sleeve,      // half its length
    lower_face,
    upper_face,  // below and above the tilt centre
    inner_radius,
    inner_height,
    outer_radius,
    outer_height,
    ring_height,
    hub_height,
    bolt_to_axis,
    along,
    lead,
    up,  // of the pitch arm's ball
    guide_radius,
    driver_radius,
    tip,
    horn,
    servo_height,
    servo_along,
    servo_across,
    lower_link,
    upper_link,
};

inline int unknown_index(Unknown unknown, int index = 0) {
    const int first = static_cast<int>(Unknown::horn), kind = static_cast<int>(unknown);
    return kind < first ? kind : first + 3 * (kind - first) + index;  // upper links come last: as many as blades
}
inline int unknown_count(const MeasuredLayout& layout) {
    return unknown_index(Unknown::upper_link, layout.blades);
}

/// The unknown that a reading is by itself; none where several make it up.
inline std::optional<Unknown> read_alone(Taking taking) {
    switch (taking) {
        case Taking::ball:
            return Unknown::ball;
        case Taking::shaft:
            return Unknown::shaft;
        case Taking::cross_bolt:
            return Unknown::cross_bolt;
        case Taking::barrel:
            return Unknown::barrel;
        case Taking::boss_lower:
            return Unknown::boss_lower;
        case Taking::boss_upper:
            return Unknown::boss_upper;
        case Taking::bolt_to_axis:
            return Unknown::bolt_to_axis;
        case Taking::arm_up:
            return Unknown::up;
        case Taking::horn:
            return Unknown::horn;
        case Taking::servo_along:
            return Unknown::servo_along;
        case Taking::servo_across:
            return Unknown::servo_across;
        case Taking::guide_pin:
            return Unknown::guide_radius;
        case Taking::driver_pin:
            return Unknown::driver_radius;
        case Taking::tip:
            return Unknown::tip;
        default:
            return std::nullopt;
    }
}

template <class T>
class Rows {
public:
    Rows(const MeasuredLayout& layout, const std::vector<T>& x) : layout_(&layout), x_(&x) {}

    const T& unknown(Unknown which, int index = 0) const {
        return (*x_)[static_cast<std::size_t>(unknown_index(which, index))];
    }
    T reading(const ReadingPlace& place) const;
    /// The length of a link that holds the ring level, the blades flat and the horns at neutral.
    T lower_needed(int j) const { return distance(horn_ball(j), inner_ball(j)); }
    T upper_needed(int k) const { return distance(outer_ball(k), arm_ball(k)); }
    /// How far the horn ball stands off from right under its ring ball, along and across the horn.
    T upright_along(int j) const { return along_horn(j, horn_ball(j)) - along_horn(j, inner_ball(j)); }
    T upright_across(int j) const { return across_horn(j, horn_ball(j)) - across_horn(j, inner_ball(j)); }

private:
    using Point = std::array<T, 3>;

    const MeasuredLayout::ServoPlace& servo(int j) const { return layout_->servos[static_cast<std::size_t>(j)]; }
    double horn_angle(int j) const { return servo(j).horn_azimuth_deg * degree; }
    double axis_angle(int j) const { return (servo(j).horn_azimuth_deg + (servo(j).axis_left ? 90 : -90)) * degree; }
    double spin() const { return head::spin_sign(layout_->direction); }

    T along_horn(int j, const Point& p) const {
        return p[0] * std::cos(horn_angle(j)) + p[1] * std::sin(horn_angle(j));
    }
    T across_horn(int j, const Point& p) const {
        return p[0] * std::cos(axis_angle(j)) + p[1] * std::sin(axis_angle(j));
    }
    Point inner_ball(int j) const {
        const double a = servo(j).ball_azimuth_deg * degree;
        const T& r = unknown(Unknown::inner_radius);
        return {T(r * std::cos(a)), T(r * std::sin(a)),
                T(unknown(Unknown::ring_height) + unknown(Unknown::inner_height))};
    }
    Point horn_ball(int j) const {
        const T out = unknown(Unknown::servo_along, j) + unknown(Unknown::horn, j);
        const T& side = unknown(Unknown::servo_across, j);
        const double u = horn_angle(j), k = axis_angle(j);
        return {T(out * std::cos(u) + side * std::cos(k)), T(out * std::sin(u) + side * std::sin(k)),
                unknown(Unknown::servo_height, j)};
    }
    Point outer_ball(int k) const {
        const double a = spin() * (layout_->outer_ahead_deg + 360.0 * k / layout_->blades) * degree;
        const T& r = unknown(Unknown::outer_radius);
        return {T(r * std::cos(a)), T(r * std::sin(a)),
                T(unknown(Unknown::ring_height) + unknown(Unknown::outer_height))};
    }
    /// Blade flat: out along the coned feathering axis, leading in the plane of rotation, up normal to both.
    Point arm_ball(int k) const {
        const double a = spin() * 360.0 * k / layout_->blades * degree, cone = layout_->precone_deg * degree;
        const T& lead = unknown(Unknown::lead);
        const T out = unknown(Unknown::along) * std::cos(cone) - unknown(Unknown::up) * std::sin(cone);
        return {T(out * std::cos(a) - lead * (spin() * std::sin(a))),
                T(out * std::sin(a) + lead * (spin() * std::cos(a))),
                T(unknown(Unknown::hub_height) + unknown(Unknown::along) * std::sin(cone) +
                  unknown(Unknown::up) * std::cos(cone))};
    }
    static T distance(const Point& a, const Point& b) {
        using std::sqrt;
        const T x = a[0] - b[0], y = a[1] - b[1], z = a[2] - b[2];
        const T square = x * x + y * y + z * z;
        return sqrt(square);
    }
    T radius(Unknown diameter) const { return unknown(diameter) * 0.5; }
    T boss(Unknown which) const {
        return unknown(which) * (layout_->links == MeasuredLayout::LinkForm::gap ? -1.0 : 1.0);
    }
    /// From the bearing block's face up to a height of the head frame.
    T above_block(const T& height) const { return height - layout_->block_height_mm; }
    T bolt_underside() const {
        return unknown(Unknown::hub_height) - unknown(Unknown::bolt_to_axis) - radius(Unknown::cross_bolt);
    }

    const MeasuredLayout* layout_;
    const std::vector<T>* x_;
};

template <class T>
T Rows<T>::reading(const ReadingPlace& place) const {
    using U = Unknown;
    const int i = place.index;
    const auto [a, b] = span_balls(*layout_, place.taking, i);
    switch (place.taking) {
        case Taking::inner_span:
            return distance(inner_ball(a), inner_ball(b)) + unknown(U::ball);
        case Taking::outer_span:
            return distance(outer_ball(a), outer_ball(b)) + unknown(U::ball);
        case Taking::outer_to_shaft:
            return unknown(U::outer_radius) + radius(U::ball) + radius(U::shaft);
        case Taking::sleeve:
            return unknown(U::sleeve) * 2.0;
        case Taking::sleeve_below:
            return unknown(U::sleeve) - unknown(U::lower_face);
        case Taking::inner_ball:
            return unknown(U::inner_height) + radius(U::ball) + unknown(U::lower_face);
        case Taking::faces:
            return unknown(U::lower_face) + unknown(U::upper_face);
        case Taking::outer_ball:
            return unknown(U::outer_height) + radius(U::ball) - unknown(U::upper_face);
        case Taking::block_to_face:
            return above_block(T(unknown(U::ring_height) - unknown(U::lower_face)));
        case Taking::block_to_ball:
            return above_block(T(unknown(U::ring_height) + unknown(U::inner_height) + radius(U::ball)));
        case Taking::face_to_bolt:
            return bolt_underside() - unknown(U::ring_height) - unknown(U::upper_face);
        case Taking::block_to_bolt:
            return above_block(bolt_underside());
        case Taking::arm_span:
            return distance(arm_ball(a), arm_ball(b)) + unknown(U::ball);
        case Taking::arm_along:
            return unknown(U::along) + radius(U::ball) + radius(U::shaft);
        case Taking::arm_lead:
            return unknown(U::lead) * (layout_->trailing_arm ? -1.0 : 1.0) + radius(U::ball) + radius(U::barrel);
        case Taking::servo_height:
            return above_block(unknown(U::servo_height, i));
        case Taking::horn_span:
            return distance(horn_ball(a), horn_ball(b)) + unknown(U::ball);
        case Taking::lower_link:
            return unknown(U::lower_link, i) + boss(U::boss_lower);
        case Taking::upper_link:
            return unknown(U::upper_link, i) + boss(U::boss_upper);
        default:
            break;
    }
    return unknown(*read_alone(place.taking), i);
}

}  // namespace swashwright::studies::measured
