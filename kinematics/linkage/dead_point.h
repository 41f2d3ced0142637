// How the distance to a dead point changes with the pose.
#pragma once

#include <vector>

#include "kinematics/linkage/workspace.h"

namespace swashwright::linkage {

/// First-order motion of a workspace's bodies and anchors; fields as there.
struct MotionView {
    const std::vector<Vec3>&spin, &drift, &frame_spin, &frame_drift, &anchor_drift, &normal_drift;
};

/// The smallest singular value of a block's scaled Jacobian (see `distance_to_dead_point`), and its slope along each
/// motion: u' dJ v of its singular vectors (Stewart and Sun, Matrix Perturbation Theory, 1990, section IV.2), exact
/// where no other singular value is as small.
double dead_point_slopes(const Workspace& ws, const Block& block, const std::vector<MotionView>& along, double* slopes);

}  // namespace swashwright::linkage
