// Exact first derivatives of a closed pose by its inputs and by every number of the description, by the implicit
// function theorem: the blocks' Jacobians at the pose, back-substituted. Nothing is differenced.
#pragma once

#include <span>
#include <vector>

#include "kinematics/linkage/motion.h"
#include "kinematics/linkage/shared.h"

namespace swashwright::linkage {

enum class Quantity {
    input,            // index: input, amount.x: rad or mm
    length,           // index: closure, amount.x: mm
    anchor_position,  // index: anchor, amount in its body's frame, mm
    frame_origin,     // index: body, shift of its joint frame in the parent's frame, mm
    frame_turn,       // index: body, rotation vector of its joint frame in the parent's frame, rad
    slot_normal,      // index: closure, change of the unit normal in its body's frame
};

/// A rate of change of one number of the description or of an input.
struct Change {
    Quantity what = Quantity::input;
    int index = 0;
    Vec3 amount = Vec3::Zero();
};

/// One-parameter derivatives at one pose. `at` factors the blocks once; `along` answers for one direction each.
class Tangent {
public:
    explicit Tangent(const Plan& plan);

    /// Takes the pose at which `ws` stands. False where a block is singular: a dead point, no derivative exists.
    bool at(const Plan& plan, Workspace& ws);
    /// Leaves in `ws` the motion of everything along the sum of `changes`: `rate`, `spin`, `drift`, `anchor_drift`.
    void along(const Plan& plan, Workspace& ws, std::span<const Change> changes);

private:
    void enter(const Plan& plan, std::span<const Change> changes, std::vector<double>& rates);
    void solve_block(const Plan& plan, Workspace& ws, std::size_t index);

    std::vector<SharedSystem> systems_;  // one for each block; a square block uses its LU alone
    Changes changes_;
};

/// Rate of a body's joint, unknown k of it: mm, or rad (a ball's about the ground's axes).
inline double rate(const Workspace& ws, BodyId body, int k = 0) {
    return ws.rates[4 * static_cast<std::size_t>(body.index) + static_cast<std::size_t>(k)];
}

/// Smallest singular value of a block's Jacobian, rotations counted at the block's lever (so mm per mm): 0 at a dead
/// point, of the order of 1 well away from it.
double distance_to_dead_point(const Workspace& ws, const Block& block);

/// The Jacobian of a block's rows by its unknowns, rotations divided by the lever; rows by unknowns.
Eigen::MatrixXd scaled_jacobian(const Workspace& ws, const Block& block);

}  // namespace swashwright::linkage
