// Sizes that a description does not give, worked out from the ones it gives, so that a small head and a
// large one both look right and odd numbers are never drawn absurdly. Millimetres; every size is positive and finite.
#pragma once

#include "kinematics/head/description.h"

namespace swashwright::head {

struct Proportions {
    double ring;   // a typical ring radius: the scale of all else
    double ball;   // radius of the link balls
    double shaft;  // radius of the main shaft

    // Swashplate, in the rings' own frames.
    double plate;                         // thickness of either ring
    double inner_height, outer_height;    // middle of either plate above the tilt centre
    double inner_base, outer_base;        // plate radius between the arms
    double sleeve_hole, sleeve, bearing;  // radii: bore, inner race's outside, outer ring's bore
    double swing;                         // how far the ring may be expected to move up or down from neutral

    // Head, out along the feathering axis from the shaft.
    double hub, hub_half_height;  // reach and half height of the hub block
    double spindle;               // radius of the feathering spindle
    double grip_start, grip_end;  // the grip's round body
    double grip;                  // its radius
    double bolt_out;              // where the blade bolt stands
    double fork_end;              // end of the fork around the blade root
    double chord, stub_end, blade_end;

    double horn;    // length of a typical servo horn
    double ground;  // height of the ground sheet, head frame
    double top;     // top of the shaft, head frame
};

/// Works for any description, also one that cannot be a head.
Proportions proportions_of(const Description& description);

}  // namespace swashwright::head
