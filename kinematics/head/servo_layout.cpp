#include "kinematics/head/servo_layout.h"

namespace swashwright::head {

Description with_servos_at(Description d, const std::vector<double>& azimuths_deg) {
    auto& balls = d.swashplate.inner_balls;
    if (azimuths_deg.size() != d.servos.size() || balls.size() < d.servos.size()) return d;
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        const double by = azimuths_deg[j] - balls[j].angle_deg;
        if (by == 0) continue;
        const Mat3 turn = turn_about_z(by * degree);
        Servo& servo = d.servos[j];
        balls[j].angle_deg += by;
        servo.pivot_mm = Vec3(turn * pivot_point(servo.pivot_mm));
        servo.axis = turn * servo.axis;
        servo.horn_zero = turn * servo.horn_zero;
    }
    return d;
}

}  // namespace swashwright::head
