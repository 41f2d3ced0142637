// Heads that the drawing's tests share.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "tests/support/demo_head.h"

namespace swashwright::draw {

inline head::Description demo(const std::string& name) {
    return testing::demo(name + ".toml");
}

inline const std::vector<std::string>& demos() {
    static const std::vector<std::string> names{"two_blade_600", "three_blade_700", "small_two_blade_250"};
    return names;
}

inline head::Pose posed(const head::Description& description, const head::Sticks& sticks, double azimuth_deg) {
    const auto head = head::Head::build(description);
    if (!head) throw std::runtime_error(head.error().message);
    return head->nearest(head->horn_angles_deg(sticks), azimuth_deg).pose;
}

/// The two-blade demo with so many blades, evenly spread, turning either way.
inline head::Description with_blades(int blades, head::Direction direction) {
    head::Description d = demo("two_blade_600");
    d.rotor.blades = blades;
    d.rotor.direction = direction;
    d.swashplate.outer_balls.assign(static_cast<std::size_t>(blades), d.swashplate.outer_balls[0]);
    for (int k = 0; k < blades; ++k)
        d.swashplate.outer_balls[static_cast<std::size_t>(k)].angle_deg += 360.0 * k / blades;
    d.upper_links.assign(static_cast<std::size_t>(blades), d.upper_links[0]);
    d.grips.assign(static_cast<std::size_t>(blades), d.grips[0]);
    return d;
}

/// The same head, every length `factor` times as long.
inline head::Description scaled(head::Description d, double factor) {
    d.rotor.hub_height_mm *= factor;
    d.rotor.blade_tip_mm *= factor;
    const auto scale_places = [&](std::vector<head::Polar>& places) {
        for (auto& p : places) p.radius_mm *= factor, p.height_mm *= factor;
    };
    for (auto& servo : d.servos) {
        servo.horn_mm *= factor;
        servo.pivot_mm = Vec3(head::pivot_point(servo.pivot_mm) * factor);
    }
    d.swashplate.neutral_height_mm *= factor;
    d.swashplate.guide_pin.radius_mm *= factor;
    d.swashplate.guide_pin.height_mm *= factor;
    scale_places(d.swashplate.inner_balls);
    scale_places(d.swashplate.outer_balls);
    scale_places(d.swashplate.driver_pins);
    for (auto* links : {&d.lower_links, &d.upper_links}) {
        for (auto& link : *links) link.length_mm *= factor, link.error_mm *= factor;
    }
    for (auto& grip : d.grips) {
        grip.pitch_arm.along_mm *= factor;
        grip.pitch_arm.lead_mm *= factor;
        grip.pitch_arm.up_mm *= factor;
    }
    return d;
}

}  // namespace swashwright::draw
