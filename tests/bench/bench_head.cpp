#include "tests/bench/bench_head.h"

#include <string>

namespace swashwright::bench {

head::Description bench_head() {
    head::Description head;
    head.name = "benchmark head, invented";
    head.rotor = {2, head::Direction::clockwise, 112.0, 0.0, 640.0, 2100.0};
    const double azimuths[] = {60.0, -60.0, 180.0};
    const double misfits[] = {0.12, -0.08, 0.05};
    for (int j = 0; j < 3; ++j) {
        const double azimuth = azimuths[j] * degree;
        const Vec3 outward(std::cos(azimuth), std::sin(azimuth), 0);
        const Vec3 across(-std::sin(azimuth), std::cos(azimuth), 0);
        head::Servo servo;
        servo.name = "servo " + std::to_string(j + 1);
        servo.horn_mm = 15.0;
        servo.horn_zero = across;
        servo.axis = outward;
        servo.pivot_mm = Vec3(27.0 * outward - 14.0 * across + Vec3(0, 0, 7.0));
        servo.neutral_deg = 1.5 * (j - 1);
        head.servos.push_back(servo);
        head.swashplate.inner_balls.push_back({26.0, azimuths[j], 0.5});
        head.lower_links.push_back({33.5, misfits[j]});
    }
    head.swashplate.neutral_height_mm = 40.0;
    head.swashplate.guide_pin = {34.0, 180.0, 0.5};
    head.swashplate.driver_pins = {{21.0, 12.0, 4.0}};
    for (int k = 0; k < 2; ++k) {
        head.swashplate.outer_balls.push_back({25.0, 78.0 + 180.0 * k, 6.0});
        head.grips.push_back({{6.0, 24.0, 0.5}, 0.0});
        head.upper_links.push_back({66.5, 0.1 * k});
    }
    head.mixing = {18.0, 12.0, 0.0};
    return head;
}

}  // namespace swashwright::bench
