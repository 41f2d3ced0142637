#include "viewer/draw/camera.h"

#include <algorithm>
#include <cmath>
#include <glm/gtc/matrix_transform.hpp>

#include "viewer/draw/drawing.h"

namespace swashwright::draw {
namespace {

constexpr double nearest_mm = 5, farthest_mm = 1e5;

/// From the target to the eye.
Vec3 outwards(const Camera& camera) {
    const double a = camera.azimuth_deg * degree, h = camera.height_deg * degree;
    return {std::cos(h) * std::cos(a), std::cos(h) * std::sin(a), std::sin(h)};
}

Vec3 to_the_right(const Camera& camera) {
    const double a = camera.azimuth_deg * degree;
    return {-std::sin(a), std::cos(a), 0};
}

glm::dvec3 as_glm(const Vec3& v) {
    return {v.x(), v.y(), v.z()};
}

}  // namespace

void Camera::orbit(double d_azimuth_deg, double d_height_deg) {
    azimuth_deg = std::remainder(azimuth_deg + d_azimuth_deg, 360.0);
    height_deg = std::clamp(height_deg + d_height_deg, -89.0, 89.0);
}

void Camera::pan(double right_mm, double up_mm) {
    const Vec3 right = to_the_right(*this);
    target += right * right_mm + outwards(*this).cross(right) * up_mm;
}

void Camera::zoom(double factor) {
    if (std::isfinite(factor) && factor > 0) distance_mm = std::clamp(distance_mm / factor, nearest_mm, farthest_mm);
}

void Camera::fit(const Vec3& centre, double radius_mm, double aspect) {
    target = centre;
    // The narrower of the two view angles must hold the sphere.
    const double half_up = view_deg * degree / 2;
    const double half = aspect < 1 ? std::atan(std::tan(half_up) * std::max(aspect, 0.05)) : half_up;
    distance_mm = std::clamp(radius_mm / std::sin(half), nearest_mm, farthest_mm);
}

Vec3 Camera::eye() const {
    return target + outwards(*this) * distance_mm;
}

glm::dmat4 Camera::view() const {
    const Vec3 up = outwards(*this).cross(to_the_right(*this));
    return glm::lookAt(as_glm(eye()), as_glm(target), as_glm(up));
}

glm::dmat4 Camera::projection(double aspect) const {
    return glm::perspective(view_deg * degree, std::max(aspect, 1e-3), distance_mm / 40, distance_mm * 12);
}

glm::dvec3 Camera::project(const Vec3& point, const Viewport& viewport) const {
    const double width = std::max(viewport.width, 1), height = std::max(viewport.height, 1);
    const glm::dvec4 clip = projection(width / height) * view() * glm::dvec4(as_glm(point), 1);
    if (clip.w <= 1e-9) return {viewport.x, viewport.y, 2};
    const glm::dvec3 at = glm::dvec3(clip) / clip.w;
    return {viewport.x + (at.x + 1) / 2 * width, viewport.y + (1 - at.y) / 2 * height, (at.z + 1) / 2};
}

}  // namespace swashwright::draw
