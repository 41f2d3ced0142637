// Shared by the files that make solids: a description, its proportions and the list that grows. Internal to draw/.
#pragma once

#include <cmath>
#include <utility>

#include "viewer/draw/shapes.h"
#include "viewer/draw/solids.h"

namespace swashwright::draw {

struct Bench {
    const head::Description& head;
    Proportions p;
    double sense;  // +1 anticlockwise, -1 clockwise
    std::vector<Solid> made;

    void add(Part part, Frame frame, Tone tone, Mesh mesh) { made.push_back({part, frame, tone, std::move(mesh)}); }
    /// A ball on its stud: `root` is where the stud leaves the part.
    void add_ball(Part part, Frame frame, const Vec3& centre, const Vec3& root);
};

/// A point at radius, angle (rad) and height about z.
inline Vec3 around(double radius, double angle, double height) {
    return {radius * std::cos(angle), radius * std::sin(angle), height};
}

void add_mast(Bench& bench);    // shaft, its bearing block, guide bracket
void add_servos(Bench& bench);  // bodies and horns
void add_rings(Bench& bench);   // swashplate and driver
void add_links(Bench& bench);
void add_hub(Bench& bench);
void add_grips(Bench& bench);
void add_users(Bench& bench);  // solids that the scene gives
void add_blades(Bench& bench, bool whole_blades);

}  // namespace swashwright::draw
