// Vectors, rotations and placements. Millimetres and radians throughout the library.
#pragma once

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

namespace swashwright {

using Vec3 = Eigen::Vector3d;
using Mat3 = Eigen::Matrix3d;
using Quat = Eigen::Quaterniond;

inline constexpr double pi = std::numbers::pi;
inline constexpr double degree = pi / 180.0;  // radians in a degree

/// Angle in (-pi, pi] of a vector (c, s) of any length but zero, within 2.3e-16 of std::atan2 and several times as fast
/// up to 45 deg: the arctangent of the half angle by a polynomial through Chebyshev points (of degree 10 in its
/// square).
inline double angle_of(double c, double s) {
    const double half = s / (c + std::sqrt(c * c + s * s)), z = half * half;
    if (!(z < 0.1716)) return std::atan2(s, c);  // beyond 45 deg
    constexpr double p[] = {-0.3333333333332843,  0.19999999998853618, -0.14285714180856576, 0.11111106175584769,
                            -0.09090772961650327, 0.07689951902451446, -0.0664022008540203,  0.056882767804654844,
                            -0.0434784293457331,  0.021132810313338496};
    double sum = p[9];
    for (int k = 8; k >= 0; --k) sum = p[k] + z * sum;
    return 2.0 * half * (1.0 + z * sum);
}

/// Where a frame F stands in a frame P: a point x given in F is at `origin + turn * x` in P.
struct Placement {
    Mat3 turn = Mat3::Identity();  // columns are F's axes, written in P
    Vec3 origin = Vec3::Zero();    // F's origin in P, mm

    Vec3 operator*(const Vec3& x) const { return origin + turn * x; }
};

/// Rotation by `angle` (rad) about z, right-handed.
inline Mat3 turn_about_z(double angle) {
    return Eigen::AngleAxisd(angle, Vec3::UnitZ()).toRotationMatrix();
}

}  // namespace swashwright
