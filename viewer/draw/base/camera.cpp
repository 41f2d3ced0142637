#include "viewer/draw/base/camera.h"

#include <algorithm>
#include <cmath>
#include <glm/gtc/matrix_transform.hpp>

#include "viewer/draw/base/style.h"

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

void Camera::zoom_at(double factor, const Vec3& point) {
    const double before = distance_mm;
    zoom(factor);
    // Eye and target move towards the point by the same share, so all lines through the point stay.
    if (point.allFinite()) target = point + (target - point) * (distance_mm / before);
}

void Camera::fit(const Vec3& centre, double radius_mm, double aspect) {
    target = centre;
    // The narrower of the two view angles must hold the sphere.
    const double half_up = view_deg * degree / 2;
    const double half = aspect < 1 ? std::atan(std::tan(half_up) * std::max(aspect, 0.05)) : half_up;
    distance_mm = std::clamp(radius_mm / std::sin(half), nearest_mm, farthest_mm);
}

void Camera::frame(std::span<const Vec3> points, std::span<const Vec3> swept, double aspect) {
    constexpr double margin = 0.94;  // of the half picture
    const double half_up = margin * std::tan(view_deg * degree / 2), half_across = half_up * std::max(aspect, 0.05);
    const Vec3 out = outwards(*this), right = to_the_right(*this), up = out.cross(right);
    const auto farthest = [&](const Vec3& way) {
        double most = -HUGE_VAL;
        for (const Vec3& p : points) most = std::max(most, p.dot(way));
        const double level = std::hypot(way.x(), way.y());
        for (const Vec3& p : swept) most = std::max(most, p.z() * way.z() + std::hypot(p.x(), p.y()) * level);
        return most;
    };
    // With the eye at e and a point at p, both in right, up, out: |p_right - e_right| <= half_across (e_out - p_out),
    // and likewise upwards. Each of the four sides is one of these bounds at its farthest point.
    const double to_right = farthest(right + half_across * out), to_left = farthest(-right + half_across * out);
    const double to_top = farthest(up + half_up * out), to_foot = farthest(-up + half_up * out);
    const double front = farthest(out), middle = (front - farthest(-out)) / 2;
    constexpr double clear = 30;  // what lies nearer than the distance over 40 is not drawn
    const double eye = std::max({(to_right + to_left) / (2 * half_across), (to_top + to_foot) / (2 * half_up),
                                 (clear * front - middle) / (clear - 1)});
    if (!std::isfinite(eye)) return;
    // Where there is room to spare, the view angle that would just do puts what is drawn in the middle.
    const auto centred = [&](const Vec3& way, double half) {
        double low = 0, high = half;
        for (int step = 0; step < 24; ++step) {
            const double h = (low + high) / 2;
            (farthest(way + h * out) + farthest(-way + h * out) > 2 * h * eye ? low : high) = h;
        }
        return (farthest(way + high * out) - farthest(-way + high * out)) / 2;
    };
    target = right * centred(right, half_across) + up * centred(up, half_up) + out * middle;
    distance_mm = std::clamp(eye - middle, nearest_mm, farthest_mm);
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

Vec3 Camera::point_under(double x, double y, const Viewport& viewport, const Vec3& like) const {
    const double width = std::max(viewport.width, 1), height = std::max(viewport.height, 1);
    const Vec3 out = outwards(*this), right = to_the_right(*this), up = out.cross(right);
    const double half = std::tan(view_deg * degree / 2), depth = (eye() - like).dot(out);
    const double across = (2 * (x - viewport.x) - width) / height * half;
    const double above = (1 - 2 * (y - viewport.y) / height) * half;
    return eye() + depth * (across * right + above * up - out);
}

double Camera::pixels_per_mm(const Vec3& at, const Viewport& viewport) const {
    const double depth = (eye() - at).dot(outwards(*this));
    return depth > 1e-9 ? viewport.height / (2 * depth * std::tan(view_deg * degree / 2)) : 0;
}

}  // namespace swashwright::draw
