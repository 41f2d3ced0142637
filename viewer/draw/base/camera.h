// A camera that orbits a point. Head frame, mm.
#pragma once

#include <glm/glm.hpp>
#include <span>

#include "kinematics/linkage/geometry.h"

namespace swashwright::draw {

struct Viewport;

struct Camera {
    Vec3 target = Vec3(0, 0, 60);
    double distance_mm = 400;
    double azimuth_deg = 145;  // where the eye stands, from the nose, positive anticlockwise from above
    double height_deg = 20;    // the eye above the horizon, -89 to 89
    double view_deg = 30;      // vertical field of view

    void orbit(double d_azimuth_deg, double d_height_deg);  // height is clamped
    void pan(double right_mm, double up_mm);                // moves the target in the picture plane
    void zoom(double factor);                               // > 1 comes closer; distance is clamped
    /// The same, so that this point in front of the eye stays where it is in the picture.
    void zoom_at(double factor, const Vec3& point);
    void fit(const Vec3& centre, double radius_mm, double aspect);
    /// Goes where all these points fill the picture as far as a margin lets them, without turning. Each of `swept`
    /// stands for its whole circle about the shaft.
    void frame(std::span<const Vec3> points, std::span<const Vec3> swept, double aspect);

    bool operator==(const Camera&) const = default;

    Vec3 eye() const;
    glm::dmat4 view() const;
    glm::dmat4 projection(double aspect) const;
    /// A point of the head frame as a pixel of the viewport's framebuffer (origin top left); z is depth in [0, 1],
    /// outside it if the point is not in front of the eye.
    glm::dvec3 project(const Vec3& point, const Viewport& viewport) const;
    /// The other way round: the point under a pixel that is as deep in the picture as `like`.
    Vec3 point_under(double x, double y, const Viewport& viewport, const Vec3& like) const;
    /// Lengths of the picture plane at the depth of a point: pixels for each mm, 0 where it is not before the eye.
    double pixels_per_mm(const Vec3& at, const Viewport& viewport) const;
};

}  // namespace swashwright::draw
