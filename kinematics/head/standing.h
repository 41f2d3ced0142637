// Where the parts of a head stand that hangs together too loosely to be posed: for drawing it while it is being built.
#pragma once

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"

namespace swashwright::head {

/// `known`: the last pose of `before`, the head as it was. Horns, rings, hub and grips stay where they were; levers and
/// sliders that `before` has too stay, others stand on their carriers at `angle_deg` and `place_mm`; balls are where
/// their parts have them. No link need be as long as its balls are apart.
Pose standing(const Description& description, const Description& before, const Pose& known);

}  // namespace swashwright::head
