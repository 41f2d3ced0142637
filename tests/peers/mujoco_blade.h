// A rigid blade that goes round in MuJoCo (Todorov, Erez, Tassa: MuJoCo, 2012), for comparison only.
#pragma once

namespace swashwright::peers {

/// A body of even density, a box, on a hinge that cones up from a hub turning at a constant speed. SI units, rad.
struct SpinningBlade {
    double mass = 0, span = 0, chord = 0, thickness = 0;
    double along = 0, ahead = 0, up = 0;  // its middle, from the shaft and from the hinge's line, at no pitch
    double cone = 0, pitch = 0, speed = 0;
};

/// Moment about the hinge, leading edge up positive, that holds it at its pitch: by inverse dynamics, no gravity. N m.
double holding_moment_nm(const SpinningBlade& blade);

}  // namespace swashwright::peers
