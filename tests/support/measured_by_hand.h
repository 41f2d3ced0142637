// Heads whose parts are alike, and the readings that a calliper would give on them, by plain geometry of points. All
// invented.
#pragma once

#include <array>
#include <cmath>
#include <numbers>

#include "kinematics/head/build.h"
#include "kinematics/studies/measured/measured_readings.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::testing {

/// Sizes that a head's description does not hold.
struct LooseSizes {
    double ball = 4.8, shaft = 10, cross_bolt = 3, barrel = 14, boss_lower = 5.6, boss_upper = 5.4;
    double sleeve = 16, lower_face = 6, upper_face = 7, bolt_to_axis = 0;  // faces from the tilt centre
};

struct HandHead {
    head::Description head;
    studies::MeasuredLayout layout;
    LooseSizes sizes;
};

inline double azimuth_of(const Vec3& v) {
    return std::atan2(v.y(), v.x()) / degree;
}

/// The layout that a head has; its balls of one ring, blades and grips must be alike.
inline studies::MeasuredLayout layout_of(const head::Description& d) {
    studies::MeasuredLayout layout;
    layout.name = d.name;
    layout.blades = d.rotor.blades;
    layout.direction = d.rotor.direction;
    layout.trailing_arm = d.grips[0].pitch_arm.lead_mm < 0;
    layout.outer_ahead_deg = d.swashplate.outer_balls[0].angle_deg;
    layout.guide_azimuth_deg = d.swashplate.guide_pin.angle_deg;
    layout.driver_ahead_deg.clear();
    for (const head::Polar& pin : d.swashplate.driver_pins) layout.driver_ahead_deg.push_back(pin.angle_deg);
    layout.precone_deg = d.rotor.precone_deg;
    layout.head_speed_rpm = d.rotor.head_speed_rpm;
    layout.collective_deg = std::abs(d.mixing.collective_deg);
    layout.cyclic_deg = d.mixing.cyclic_deg;
    for (std::size_t j = 0; j < 3; ++j) {
        const head::Servo& servo = d.servos[j];
        layout.servos[j] = {servo.name, d.swashplate.inner_balls[j].angle_deg, azimuth_of(servo.horn_zero),
                            servo.horn_zero.cross(servo.axis).z() > 0};
    }
    return layout;
}

/// A demo head by its file in scenes/, with parts of the usual sizes.
inline HandHead hand_demo(const std::string& file) {
    HandHead out;
    out.head = demo(file);
    out.layout = layout_of(out.head);
    return out;
}

/// A random head with its parts made alike.
inline HandHead random_hand_head(std::uint64_t seed) {
    std::mt19937_64 bits(seed);
    HandHead out;
    out.head = random_head(bits);
    head::Description& d = out.head;
    for (head::Servo& servo : d.servos) {
        servo.axis.z() = 0;
        servo.axis.normalize();
        servo.neutral_deg = servo.trim_deg = 0;
        servo.pivot_mm = head::pivot_point(servo.pivot_mm);
    }
    head::Swashplate& ring = d.swashplate;
    for (head::Polar& ball : ring.inner_balls)
        ball = {ring.inner_balls[0].radius_mm, ball.angle_deg, ring.inner_balls[0].height_mm};
    for (std::size_t k = 0; k < d.grips.size(); ++k) {
        ring.outer_balls[k] = {ring.outer_balls[0].radius_mm,
                               ring.outer_balls[0].angle_deg + 360.0 * double(k) / d.rotor.blades,
                               ring.outer_balls[0].height_mm};
        d.grips[k].pitch_arm = d.grips[0].pitch_arm;
        d.grips[k].pitch_offset_deg = 0;
    }
    ring.guide_pin.height_mm = ring.driver_pins[0].height_mm = 0;
    ring.guide_turn_deg = ring.driver_turn_deg = 0;
    Draw draw(bits);
    out.layout = layout_of(d);
    out.layout.block_height_mm = draw.between(-10, 10);
    if (draw.chance(0.5)) out.layout.links = studies::MeasuredLayout::LinkForm::span;
    out.sizes = {draw.between(3, 6), draw.between(5, 14), draw.between(2, 4),   draw.between(8, 20),
                 draw.between(4, 8), draw.between(4, 8),  draw.between(10, 24), draw.between(3, 9),
                 draw.between(3, 9), draw.between(-4, 4)};
    return out;
}

/// What the calliper reads, without error.
inline double hand_reading(const HandHead& hand, const studies::ReadingPlace& place) {
    using studies::Taking;
    const head::Description& d = hand.head;
    const LooseSizes& s = hand.sizes;
    const head::Swashplate& ring = d.swashplate;
    const auto i = static_cast<std::size_t>(place.index);
    const auto [a, b] = studies::span_balls(hand.layout, place.taking, place.index);
    const Vec3 centre(0, 0, ring.neutral_height_mm);
    const auto inner = [&](int j) { return Vec3(centre + head::inner_ring_point(ring.inner_balls[std::size_t(j)])); };
    const auto outer = [&](int k) {
        return Vec3(centre + head::outer_ring_point(d, ring.outer_balls[std::size_t(k)]));
    };
    const auto arm = [&](int k) {
        const head::PitchArm& p = d.grips[std::size_t(k)].pitch_arm;
        const Placement grip = head::grip_frame(d, k);
        const double out = head::spin_sign(d.rotor.direction);  // the third axis runs inwards if clockwise
        return Vec3(grip * Vec3(p.lead_mm, p.up_mm, out * p.along_mm));
    };
    const auto horn_ball = [&](int j) {
        const head::Servo& servo = d.servos[std::size_t(j)];
        return Vec3(head::pivot_point(servo.pivot_mm) + servo.horn_mm * servo.horn_zero);
    };
    const auto apart = [](const Vec3& p, const Vec3& q) { return (p - q).norm(); };
    const double block = hand.layout.block_height_mm, half_ball = s.ball / 2;
    const double lower_face = centre.z() - s.lower_face, upper_face = centre.z() + s.upper_face;
    const double bolt_underside = d.rotor.hub_height_mm - s.bolt_to_axis - s.cross_bolt / 2;
    const double boss = hand.layout.links == studies::MeasuredLayout::LinkForm::gap ? -1 : 1;
    switch (place.taking) {
        case Taking::ball:
            return s.ball;
        case Taking::shaft:
            return s.shaft;
        case Taking::cross_bolt:
            return s.cross_bolt;
        case Taking::barrel:
            return s.barrel;
        case Taking::boss_lower:
            return s.boss_lower;
        case Taking::boss_upper:
            return s.boss_upper;
        case Taking::inner_span:
            return apart(inner(a), inner(b)) + s.ball;
        case Taking::outer_span:
            return apart(outer(a), outer(b)) + s.ball;
        case Taking::outer_to_shaft:
            return std::hypot(outer(0).x(), outer(0).y()) + half_ball + s.shaft / 2;
        case Taking::sleeve:
            return s.sleeve;
        case Taking::sleeve_below:
            return lower_face - (centre.z() - s.sleeve / 2);
        case Taking::inner_ball:
            return inner(0).z() + half_ball - lower_face;
        case Taking::faces:
            return upper_face - lower_face;
        case Taking::outer_ball:
            return outer(0).z() + half_ball - upper_face;
        case Taking::block_to_face:
            return lower_face - block;
        case Taking::block_to_ball:
            return inner(0).z() + half_ball - block;
        case Taking::face_to_bolt:
            return bolt_underside - upper_face;
        case Taking::block_to_bolt:
            return bolt_underside - block;
        case Taking::bolt_to_axis:
            return s.bolt_to_axis;
        case Taking::arm_span:
            return apart(arm(a), arm(b)) + s.ball;
        case Taking::arm_along:
            return d.grips[0].pitch_arm.along_mm + half_ball + s.shaft / 2;
        case Taking::arm_lead:
            return std::abs(d.grips[0].pitch_arm.lead_mm) + half_ball + s.barrel / 2;
        case Taking::arm_up:
            return d.grips[0].pitch_arm.up_mm;
        case Taking::horn:
            return d.servos[i].horn_mm;
        case Taking::servo_height:
            return head::pivot_point(d.servos[i].pivot_mm).z() - block;
        case Taking::servo_along:
            return head::pivot_point(d.servos[i].pivot_mm).dot(d.servos[i].horn_zero);
        case Taking::servo_across:
            return horn_ball(place.index).dot(d.servos[i].axis);
        case Taking::horn_span:
            return apart(horn_ball(a), horn_ball(b)) + s.ball;
        case Taking::lower_link:
            return d.lower_links[i].actual_mm() + boss * s.boss_lower;
        case Taking::upper_link:
            return d.upper_links[i].actual_mm() + boss * s.boss_upper;
        case Taking::guide_pin:
            return ring.guide_pin.radius_mm;
        case Taking::driver_pin:
            return ring.driver_pins[0].radius_mm;
        case Taking::tip:
            break;
    }
    return d.rotor.blade_tip_mm;
}

/// A normally distributed number of standard deviation 1 (Box and Muller 1958).
inline double normal(Draw& draw) {
    return std::sqrt(-2 * std::log(1 - draw.between(0, 1))) * std::cos(2 * std::numbers::pi * draw.between(0, 1));
}

/// All readings; with an error of `sds` standard deviations each.
inline studies::MeasuredHead hand_readings(const HandHead& hand, Draw* errors = nullptr) {
    studies::MeasuredHead out{hand.layout, {}};
    for (const studies::ReadingPlace& place : studies::reading_places(hand.layout)) {
        const double error = errors ? normal(*errors) * studies::info(place.taking).sd : 0;
        out.taken[place] = {hand_reading(hand, place) + error, std::nullopt};
    }
    return out;
}

}  // namespace swashwright::testing
