// First-order motion of a body, as `Workspace` has it.
#pragma once

#include "kinematics/linkage/geometry.h"

namespace swashwright::linkage {

struct RigidRates {
    Vec3 spin = Vec3::Zero();   // rad, about the ground's axes
    Vec3 drift = Vec3::Zero();  // of its origin, mm
};

}  // namespace swashwright::linkage
