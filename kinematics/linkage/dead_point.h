// How the distance to a dead point changes with the pose.
#pragma once

#include <span>

#include "kinematics/linkage/rigid_rates.h"
#include "kinematics/linkage/workspace.h"

namespace swashwright::linkage {

/// The smallest singular value of a block's scaled Jacobian (see `distance_to_dead_point`), and its slope along each
/// motion: u' dJ v of its singular vectors (Stewart and Sun, Matrix Perturbation Theory, 1990, section IV.2), exact
/// where no other singular value is as small. `along`: of every body, one motion behind another; `slopes`: of each.
double dead_point_slopes(const Plan& plan, const Workspace& ws, const Block& block, std::span<const RigidRates> along,
                         double* slopes);

}  // namespace swashwright::linkage
