#include "viewer/draw/lines/pick.h"

#include <algorithm>
#include <cmath>

#include "kinematics/head/ball_places.h"
#include "viewer/draw/lines/cut_away.h"

namespace swashwright::draw {
namespace {

struct Ray {
    Vec3 from, along;
};

bool meets(const Ray& ray, const Box& box) {
    double enter = 0, leave = 1e300;
    for (int k = 0; k < 3; ++k) {
        const double inverse = 1 / ray.along[k];  // infinite for a ray along the face: the comparisons still hold
        const double one = (box.low[k] - ray.from[k]) * inverse, two = (box.high[k] - ray.from[k]) * inverse;
        enter = std::max(enter, std::min(one, two));
        leave = std::min(leave, std::max(one, two));
    }
    return enter <= leave;
}

/// Distance along the ray to a triangle (Moeller and Trumbore 1997), or infinity.
double distance_to(const Ray& ray, const Vec3& a, const Vec3& b, const Vec3& c) {
    const Vec3 ab = b - a, ac = c - a, p = ray.along.cross(ac);
    const double det = ab.dot(p);
    if (std::abs(det) < 1e-12) return INFINITY;
    const Vec3 t = ray.from - a, q = t.cross(ab);
    const double u = t.dot(p) / det, v = ray.along.dot(q) / det, distance = ac.dot(q) / det;
    return u < 0 || v < 0 || u + v > 1 || distance <= 0 ? INFINITY : distance;
}

}  // namespace

std::optional<Hit> hit_at(const std::vector<Drawn>& drawn, const Frames& frames, const Camera& camera,
                          const Viewport& viewport, double x, double y, const std::optional<Plane>& cut) {
    if (viewport.width <= 0 || viewport.height <= 0) return std::nullopt;
    const double aspect = static_cast<double>(viewport.width) / viewport.height;
    const glm::dmat4 back = glm::inverse(camera.projection(aspect) * camera.view());
    const glm::dvec4 far = back * glm::dvec4(2 * x / viewport.width - 1, 1 - 2 * y / viewport.height, 1, 1);
    const Vec3 eye = camera.eye();
    const Vec3 along = (Vec3(far.x, far.y, far.z) / far.w - eye).normalized();

    std::optional<Hit> found;
    double nearest = INFINITY;
    for (const Drawn& d : drawn) {
        const Placement* placement = frames.find(d.frame);
        if (placement == nullptr) continue;
        const Mat3 back_turn = placement->turn.transpose();
        const Ray ray{back_turn * (eye - placement->origin), back_turn * along};
        if (!meets(ray, d.box)) continue;
        const auto& corners = d.surface.triangles;
        for (std::size_t k = 0; k + 2 < corners.size(); k += 3) {
            const auto point = [&](std::size_t i) -> const Vec3& { return d.surface.vertices[corners[k + i]].point; };
            const double distance = distance_to(ray, point(0), point(1), point(2));
            if (distance >= nearest) continue;
            if (cut && !uncut(d.part) && cut->height_of(eye + distance * along) > 0) continue;
            nearest = distance;
            found = Hit{d.part, d.frame, ray.from + distance * ray.along,
                        (point(1) - point(0)).cross(point(2) - point(0)).normalized()};
        }
    }
    return found;
}

std::optional<Part> pick_part(const std::vector<Drawn>& drawn, const Frames& frames, const Camera& camera,
                              const Viewport& viewport, double x, double y, const std::optional<Plane>& cut) {
    const auto hit = hit_at(drawn, frames, camera, viewport, x, y, cut);
    return hit ? std::optional(hit->part) : std::nullopt;
}

std::optional<int> ball_under(const Part& part, const head::Pose& pose, double ball_radius_mm, const Camera& camera,
                              const Viewport& viewport, double x, double y) {
    const std::span<const Vec3> balls = balls_on(pose.skeleton, part);
    const bool several = part.role != Role::horn && part.role != Role::grip;
    const double tangent = std::tan(camera.view_deg * degree / 2);
    for (std::size_t i = 0; i < balls.size(); ++i) {
        const glm::dvec3 at = camera.project(balls[i], viewport);
        const double away = (camera.eye() - balls[i]).norm();
        const double radius = ball_radius_mm * viewport.height / (2 * away * tangent);
        if (at.z <= 1 && std::hypot(at.x - viewport.x - x, at.y - viewport.y - y) < 1.1 * radius)
            return several ? static_cast<int>(i) : part.index;
    }
    return std::nullopt;
}

std::optional<head::BallName> ball_near(const head::Description& description, const head::Pose& pose,
                                        const Camera& camera, const Viewport& viewport, double x, double y,
                                        double reach) {
    std::optional<head::BallName> found;
    constexpr double same = 0.5;  // of a pixel: balls that are one point, of which the first is taken
    double nearest = reach;
    for (const head::BallName& ball : head::every_ball(description)) {
        const Vec3* place = head::ball_place(pose.skeleton, ball);
        if (place == nullptr) continue;
        const glm::dvec3 at = camera.project(*place, viewport);
        const double away = std::hypot(at.x - viewport.x - x, at.y - viewport.y - y);
        if (at.z <= 1 && (found ? away < nearest - same : away <= nearest)) nearest = away, found = ball;
    }
    return found;
}

}  // namespace swashwright::draw
