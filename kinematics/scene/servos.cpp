#include "kinematics/scene/servos.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/scene/flight.h"
#include "kinematics/scene/limits.h"

namespace swashwright::scene {
namespace {

constexpr Kind pivot_radius{"a radius in mm", 0, 10000};
constexpr Kind weight{"a weight", -100, 100};
constexpr Kind pulse{"a pulse in microseconds", 100, 5000};
constexpr Kind pulse_gain{"an angle in degrees for each microsecond, not 0", -10, 10};

constexpr std::size_t longest_name = 60;
constexpr int fewest_teeth = 2, most_teeth = 100;
constexpr std::size_t most_holes = 24;
constexpr double least_pulse_gain = 1e-4;  // less is taken for 0: pulses would run off to infinity
constexpr double square_within_deg = 0.1;
constexpr double least_raise = 0.1;  // |dz/da| over the horn's length, under which the sense must be told

head::Pivot read_pivot(Keys& keys) {
    const char* key = "pivot_mm";
    if (keys.has_table(key)) return read_polar(*keys.table(key, on_inner_ring), "azimuth_deg", pivot_radius);
    const auto xyz = keys.numbers(key, 3, coordinate, "[x, y, z], or a table { radius_mm, azimuth_deg, height_mm }");
    return xyz ? Vec3((*xyz)[0], (*xyz)[1], (*xyz)[2]) : Vec3(0, 0, 0);
}

Vec3 read_direction(Keys& keys, const char* key) {
    if (!keys.has(key)) keys.numbers(key, 3, coordinate, "[x, y, z]");  // notes that it is missing
    return optional_direction(keys, key, "[x, y, z]").value_or(Vec3(0, 0, 0));
}

/// How the servo is driven and what its horn can be set to; nothing here moves anything.
void read_drive(Keys& keys, head::Servo& servo) {
    servo.pulse_centre_us = keys.number("pulse_centre_us", pulse, servo.pulse_centre_us);
    servo.pulse_deg_per_us = keys.number("pulse_deg_per_us", pulse_gain, servo.pulse_deg_per_us);
    if (std::abs(servo.pulse_deg_per_us) < least_pulse_gain)
        keys.mistake("pulse_deg_per_us", fmt::format("expected {} or more in size, either sign, found {}",
                                                     least_pulse_gain, servo.pulse_deg_per_us));
    servo.spline_teeth = keys.optional_integer("spline_teeth", fewest_teeth, most_teeth).value_or(servo.spline_teeth);
    servo.horn_holes_mm = keys.optional_list("horn_holes_mm", most_holes, length, "[16.0, 18.0, ...]");
}

}  // namespace

head::Polar read_polar(Keys keys, const char* angle_key, const Kind& radius_kind) {
    head::Polar polar;
    polar.radius_mm = keys.number("radius_mm", radius_kind);
    polar.angle_deg = keys.number(angle_key, angle);
    polar.height_mm = keys.number("height_mm", coordinate);
    keys.finish();
    return polar;
}

head::Servo read_servo(Keys& keys) {
    head::Servo servo;
    servo.name = keys.text("name", longest_name);
    servo.pivot_mm = read_pivot(keys);
    servo.axis = read_direction(keys, "axis");
    servo.horn_zero = read_direction(keys, "horn_zero");
    servo.horn_mm = keys.number("horn_mm", length);
    servo.neutral_deg = keys.number("neutral_deg", angle);
    servo.trim_deg = keys.number("trim_deg", angle, 0);
    if (const auto travel = keys.numbers("travel_deg", 2, angle, "[lowest, highest] about neutral")) {
        servo.travel_deg = {(*travel)[0], (*travel)[1]};
        if ((*travel)[0] >= (*travel)[1])
            keys.mistake("travel_deg",
                         fmt::format("expected the lowest angle first, then the highest, found [{}, {}]; swap them",
                                     (*travel)[0], (*travel)[1]));
    }
    servo.raise = keys.optional_sign("raise");
    servo.collective_weight = keys.optional_number("collective_weight", weight);
    servo.aileron_weight = keys.optional_number("aileron_weight", weight);
    servo.elevator_weight = keys.optional_number("elevator_weight", weight);
    read_drive(keys, servo);
    if (const auto stud = optional_direction(keys, "stud", "[along the horn, across it, along the output shaft]"))
        servo.stud = *stud;
    servo.rating = read_rating(keys);
    keys.finish();
    return servo;
}

void check_directions(const head::Servo& servo, bool straight, Keys& keys) {
    const Vec3 k = servo.axis.normalized();
    const Vec3 u = servo.horn_zero.normalized();
    const double off_square = std::asin(std::clamp(k.dot(u), -1.0, 1.0)) / degree;
    if (std::abs(off_square) > square_within_deg) {
        keys.mistake("horn_zero",
                     fmt::format("expected a direction square to axis within {} deg, found {:.2f} deg between "
                                 "them; correct the one that was measured worse",
                                 square_within_deg, 90 - off_square));
        return;
    }
    const double a = (servo.neutral_deg + servo.trim_deg) * degree;
    const double raise = (-std::sin(a) * u + std::cos(a) * k.cross(u)).z();
    if (!servo.raise && straight && std::abs(raise) < least_raise)
        keys.mistake(
            fmt::format("the horn hardly moves its ball up or down at neutral ({:.3f} mm for each mm along the arc), "
                        "so its sense cannot be told; add raise = 1 if a growing horn angle raises the ball, raise "
                        "= -1 if it lowers it",
                        raise));
}

void check_weights(const head::Description& head, std::size_t servo, Keys& keys) {
    const head::Servo& s = head.servos[servo];
    if (head.kind == head::Kind::tail || servo < head.swashplate.inner_balls.size() ||
        (s.collective_weight && s.aileron_weight && s.elevator_weight))
        return;
    keys.mistake(
        fmt::format("no inner ball has its number, {}, so what each stick does to it cannot be told; add "
                    "collective_weight, aileron_weight and elevator_weight",
                    servo + 1));
}

}  // namespace swashwright::scene
