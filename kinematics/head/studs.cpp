#include "kinematics/head/studs.h"

#include <cmath>

namespace swashwright::head {

namespace {

/// Outwards, turning, up at a ball's place into the ring's frame; angles run with `sense`.
Vec3 ring_stud(const Vec3& stud, const Polar& ball, double sense) {
    const double a = sense * ball.angle_deg * degree;
    const Vec3 out(std::cos(a), std::sin(a), 0), turning(-std::sin(a), std::cos(a), 0);
    return (stud.x() * out + stud.y() * turning + stud.z() * Vec3::UnitZ()).normalized();
}

}  // namespace

Vec3 horn_stud(const Description& description, std::size_t servo) {
    return description.servos[servo].stud.normalized();
}

Vec3 inner_ring_stud(const Description& description, std::size_t ball) {
    return ring_stud(description.swashplate.inner_stud, description.swashplate.inner_balls[ball], 1);
}

Vec3 outer_ring_stud(const Description& description, std::size_t ball) {
    return ring_stud(description.swashplate.outer_stud, description.swashplate.outer_balls[ball],
                     spin_sign(description.rotor.direction));
}

Vec3 arm_stud(const Description& description, std::size_t blade) {
    const Grip& grip = description.grips[blade];
    const Vec3 s = grip.stud.value_or(Vec3(0, grip.pitch_arm.lead_mm < 0 ? -1.0 : 1.0, 0));
    return Vec3(s.y(), s.z(), spin_sign(description.rotor.direction) * s.x()).normalized();  // x leads, y is up
}

}  // namespace swashwright::head
