// A head of which every force and rate can be worked out by hand.
#pragma once

#include <fmt/format.h>

#include <vector>

#include "tests/support/random_head.h"

namespace swashwright::testing {

/// Two blades with everything square: horns of 15 mm and pitch arms of 25 mm level, links upright, a servo at each of
/// these azimuths; a growing angle raises its ball.
inline head::Description square_head(const std::vector<double>& azimuths_deg) {
    constexpr double horn_mm = 15;
    head::Description d;
    d.name = "square";
    d.rotor = {.blades = 2, .hub_height_mm = 100, .blade_tip_mm = 600};
    for (const double azimuth : azimuths_deg) {
        const Vec3 out = at_azimuth(1, azimuth, 0), aside = at_azimuth(1, azimuth + 90, 0);
        head::Servo servo;
        servo.name = fmt::format("servo {}", d.servos.size() + 1);
        servo.pivot_mm = Vec3(25 * out - horn_mm * aside + Vec3(0, 0, 10));
        servo.axis = out;
        servo.horn_zero = aside;
        servo.horn_mm = horn_mm;
        d.servos.push_back(servo);
        d.swashplate.inner_balls.push_back({25, azimuth, 0});
        d.lower_links.push_back({.length_mm = 30});
    }
    d.swashplate.neutral_height_mm = 40;
    d.swashplate.guide_pin = {35, 180, 0};
    d.swashplate.driver_pins = {{20, 0, 0}};
    for (const double ahead : {90.0, 270.0}) {
        d.swashplate.outer_balls.push_back({25, ahead, 0});
        d.upper_links.push_back({.length_mm = 60});
        d.grips.push_back({.pitch_arm = {0, 25, 0}});
    }
    d.mixing = {12, 8, 0};
    return d;
}

/// Of three servos, and of four.
inline const std::vector<double> three_around{60, -60, 180}, four_around{45, 135, -135, -45};

}  // namespace swashwright::testing
