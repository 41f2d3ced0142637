#include "kinematics/head/description.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace swashwright::head {

std::string name_of(const Carrier& carrier) {
    using enum Carrier::On;
    switch (carrier.on) {
        case frame:
            return "frame";
        case inner_ring:
            return "inner_ring";
        case outer_ring:
            return "outer_ring";
        case hub:
            return "hub";
        case grip:
            return fmt::format("grip[{}]", carrier.index + 1);
        case lever:
            return fmt::format("lever[{}]", carrier.index + 1);
        case slider:
            break;
    }
    return fmt::format("slider[{}]", carrier.index + 1);
}

std::string name_of(const BallName& ball) {
    using enum BallName::Of;
    const int i = ball.index + 1;
    switch (ball.of) {
        case servo:
            return fmt::format("servo[{}].ball", i);
        case inner_ball:
            return fmt::format("inner_ball[{}]", i);
        case outer_ball:
            return fmt::format("outer_ball[{}]", i);
        case grip:
            return fmt::format("grip[{}].ball", i);
        case lever:
            return fmt::format("lever[{}].ball[{}]", i, ball.ball + 1);
        case slider:
            return fmt::format("slider[{}].ball[{}]", i, ball.ball + 1);
        case fixed_ball:
            break;
    }
    return fmt::format("fixed_ball[{}]", i);
}

Vec3 pivot_point(const Pivot& pivot) {
    if (const auto* point = std::get_if<Vec3>(&pivot)) return *point;
    const auto& polar = std::get<Polar>(pivot);
    const double azimuth = polar.angle_deg * degree;
    return {polar.radius_mm * std::cos(azimuth), polar.radius_mm * std::sin(azimuth), polar.height_mm};
}

std::string servo_words(const Servo& servo) {
    return servo.name.starts_with("servo") ? servo.name : "servo " + servo.name;
}

int format_of(const Description& d) {
    const auto given_ends = [](const Link& link) { return link.ends.has_value(); };
    const auto on_lever = [](const Grip& grip) { return grip.lever.has_value(); };
    const auto blades = static_cast<std::size_t>(d.rotor.blades);
    const bool plain = d.kind == Kind::main && d.servos.size() == 3 && d.swashplate.tilts && d.swashplate.guided &&
                       !d.swashplate.driver_pins.empty() && d.swashplate.inner_balls.size() == 3 &&
                       d.swashplate.outer_balls.size() == blades && d.lower_links.size() == 3 &&
                       d.upper_links.size() == blades && d.levers.empty() && d.sliders.empty() &&
                       d.fixed_balls.empty() && d.links.empty() && d.pins.empty() &&
                       std::ranges::none_of(d.lower_links, given_ends) &&
                       std::ranges::none_of(d.upper_links, given_ends) && std::ranges::none_of(d.grips, on_lever);
    return plain ? 1 : 2;
}

}  // namespace swashwright::head
