#include "tests/peers/plain_head.h"

#include <cmath>

#include "kinematics/head/description.h"

namespace swashwright::peers {
namespace {

Point point(const Vec3& v) {
    return {v.x(), v.y(), v.z()};
}

Point on_ring(const head::Polar& p, double spin) {
    const double a = spin * p.angle_deg * degree;
    return {p.radius_mm * std::cos(a), p.radius_mm * std::sin(a), p.height_mm};
}

}  // namespace

double PlainHead::blade_angle(double azimuth_deg) const {
    return pi + spin * azimuth_deg * degree;
}

Point PlainHead::horn_ball(int index, double horn_deg) const {
    const Horn& horn = horns[index];
    const double c = std::cos(horn_deg * degree), s = std::sin(horn_deg * degree);
    Point ball = horn.pivot;
    for (int i = 0; i < 3; ++i) ball[i] += c * horn.zero[i] + s * horn.quarter[i];
    return ball;
}

PlainHead plain_head(const head::Description& head) {
    PlainHead plain;
    const head::Swashplate& plate = head.swashplate;
    const double s = head::spin_sign(head.rotor.direction);
    plain.spin = s;
    plain.hub_height = head.rotor.hub_height_mm;
    plain.precone = head.rotor.precone_deg * degree;
    plain.ring_height = plate.neutral_height_mm;
    for (std::size_t j = 0; j < head.servos.size(); ++j) {
        const head::Servo& servo = head.servos[j];
        const Vec3 k = servo.axis.normalized();
        const Vec3 zero = (servo.horn_zero - k * k.dot(servo.horn_zero)).normalized() * servo.horn_mm;
        plain.horns.push_back({point(head::pivot_point(servo.pivot_mm)), point(zero), point(k.cross(zero)),
                               servo.neutral_deg + servo.trim_deg});
        plain.inner_balls.push_back(on_ring(plate.inner_balls[j], 1));
        plain.lower_lengths.push_back(head.lower_links[j].actual_mm());
    }
    plain.guide_pin = on_ring(plate.guide_pin, 1);
    plain.guide_plane = (plate.guide_pin.angle_deg + plate.guide_turn_deg) * degree;
    const head::Polar& driver = plate.driver_pins.front();
    plain.driver_pin = on_ring(driver, s);
    plain.driver_plane = s * (driver.angle_deg + plate.driver_turn_deg) * degree;
    for (int k = 0; k < head.rotor.blades; ++k) {
        const head::PitchArm& arm = head.grips[k].pitch_arm;
        plain.outer_balls.push_back(on_ring(plate.outer_balls[k], s));
        plain.upper_lengths.push_back(head.upper_links[k].actual_mm());
        plain.grips.push_back(
            {s * 2 * pi * k / head.rotor.blades, arm.along_mm, arm.lead_mm, arm.up_mm, head.grips[k].pitch_offset_deg});
    }
    return plain;
}

}  // namespace swashwright::peers
