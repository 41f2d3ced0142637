// Shared by the files that make solids: a description, its proportions and the list that grows. Internal to draw/.
#pragma once

#include <cmath>
#include <utility>

#include "viewer/draw/solids/shapes.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {

struct SolidMaker {
    const head::Description& head;
    Proportions p;
    double sense;  // +1 anticlockwise, -1 clockwise
    bool inside;   // with what only a cut shows
    std::vector<Solid> made;

    void add(Part part, Frame frame, Tone tone, Mesh mesh) { made.push_back({part, frame, tone, std::move(mesh)}); }
    /// A ball on its stud: `root` is where the stud leaves the part.
    void add_ball(Part part, Frame frame, const Vec3& centre, const Vec3& root);
    /// The socket of a link's end around a ball: z of `axis` along the ball's stud.
    void add_socket(Part part, Frame frame, const Placement& axis);
    /// A screw's round head with a socket in its end: from where it lies on the part outwards.
    void add_screw_head(Part part, Frame frame, const Vec3& from, const Vec3& to, double radius);
    /// A ball bearing about z: behind its shields, unless the head is cut open.
    void add_bearing(Part part, Frame frame, double height, double inner, double outer, double half_width);
};

/// A point at radius, angle (rad) and height about z.
inline Vec3 around(double radius, double angle, double height) {
    return {radius * std::cos(angle), radius * std::sin(angle), height};
}

void add_mast(SolidMaker& maker);    // shaft, its bearing block, guide bracket
void add_servos(SolidMaker& maker);  // bodies and horns
void add_rings(SolidMaker& maker);   // swashplate and driver
void add_links(SolidMaker& maker);
void add_levers(SolidMaker& maker);  // levers, sliders and fixed balls
void add_hub(SolidMaker& maker);
void add_grips(SolidMaker& maker);
void add_scene_solids(SolidMaker& maker);  // what the scene gives as [[solid]]
void add_blades(SolidMaker& maker, bool whole_blades);

}  // namespace swashwright::draw
