// Linkages with known answers, built for the general solver.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "kinematics/linkage/description.h"
#include "kinematics/linkage/geometry.h"

namespace swashwright::linkage {

/// A frame at `origin` whose z axis is `z`, with x as near to `x` as it can be.
inline Placement frame(const Vec3& origin, const Vec3& z, const Vec3& x) {
    Placement out;
    const Vec3 k = z.normalized(), u = (x - x.dot(k) * k).normalized();
    out.turn << u, k.cross(u), k;
    out.origin = origin;
    return out;
}

/// Input crank, output lever and the rod between their balls: a loop of two revolutes and two balls (RSSR); a planar
/// four-bar where both axes are parallel.
struct TwoCranks {
    Placement input, output;
    double input_arm = 0, output_arm = 0, rod = 0;
    double input_deg = 0, output_near_deg = 0;

    Description description() const {
        Description d;
        const BodyId crank = d.add_body({.name = "crank",
                                         .parent = Description::ground,
                                         .joint_frame = input,
                                         .joint = Joint::revolute,
                                         .input = true,
                                         .neutral = {.angle = input_deg * degree}});
        const BodyId driven = d.add_body({.name = "lever",
                                          .parent = Description::ground,
                                          .joint_frame = output,
                                          .joint = Joint::revolute,
                                          .neutral = {.angle = output_near_deg * degree}});
        d.add_link("rod", d.add_anchor(crank, {input_arm, 0, 0}), d.add_anchor(driven, {output_arm, 0, 0}), rod);
        return d;
    }
    static constexpr BodyId lever{2};
};

/// A ring on a shaft held by `count` vertical links whose lower ends are fixed to the ground, and by a guide pin.
struct HeldRing {
    int count = 4;
    bool guided = true;
    double radius = 20, height = 50, link = 30;
    std::vector<double> error = {0, 0, 0, 0};

    Description description() const {
        Description d;
        const BodyId held = d.add_body({.name = "ring",
                                        .parent = Description::ground,
                                        .joint_frame = {},
                                        .joint = Joint::slide_and_ball,
                                        .neutral = {.slide = height}});
        for (int i = 0; i < count; ++i) {
            const double a = 2 * pi * i / count;
            const Vec3 out(radius * std::cos(a), radius * std::sin(a), 0);
            d.add_link("link " + std::to_string(i + 1),
                       d.add_anchor(Description::ground, out + Vec3(0, 0, height - link)), d.add_anchor(held, out),
                       link + error[static_cast<std::size_t>(i)]);
        }
        if (guided)
            d.add_slot("guide pin", d.add_anchor(held, {-30, 0, 0}), d.add_anchor(Description::ground, Vec3::Zero()),
                       Vec3::UnitY());
        return d;
    }
    static constexpr BodyId ring{1};
};

}  // namespace swashwright::linkage
