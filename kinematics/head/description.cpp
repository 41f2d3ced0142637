#include "kinematics/head/description.h"

#include <cmath>

namespace swashwright::head {

Vec3 pivot_point(const Pivot& pivot) {
    if (const auto* point = std::get_if<Vec3>(&pivot)) return *point;
    const auto& polar = std::get<Polar>(pivot);
    const double azimuth = polar.angle_deg * degree;
    return {polar.radius_mm * std::cos(azimuth), polar.radius_mm * std::sin(azimuth), polar.height_mm};
}

std::string servo_words(const Servo& servo) {
    return servo.name.starts_with("servo") ? servo.name : "servo " + servo.name;
}

}  // namespace swashwright::head
