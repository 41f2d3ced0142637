// Vectors, rotations and placements. Millimetres and radians throughout the library.
#pragma once

#include <Eigen/Dense>
#include <Eigen/Geometry>
#include <numbers>

namespace swashwright {

using Vec3 = Eigen::Vector3d;
using Mat3 = Eigen::Matrix3d;
using Quat = Eigen::Quaterniond;

inline constexpr double pi = std::numbers::pi;
inline constexpr double degree = pi / 180.0;  // radians in a degree

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
