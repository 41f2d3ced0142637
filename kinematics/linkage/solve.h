// Closing the loops of a linkage.
//
//   Workspace ws(plan);                          // at neutral
//   solve(plan, ws, inputs);                     // from wherever ws stands: for sweeps; allocates nothing
//   solve_from_neutral(plan, ws, {via, inputs}); // the same pose whatever came before
//
// The branch followed is the one continuous with the pose from which a solve starts. A Newton step is taken on trust
// only while its corrections shrink at least fourfold (the monotonicity test of Deuflhard, Newton Methods for Nonlinear
// Problems, 2004, section 2.1) and the Jacobian's determinant keeps its sign, or the sum of squares stays curved
// upwards where a misfit is shared; otherwise the way there is halved. A warm solve and one from neutral end on the
// same branch unless the envelope has a hole (poses that cannot be assembled) between them; a result that must not
// depend on earlier calls comes from `solve_from_neutral`.
#pragma once

#include <span>

#include "kinematics/linkage/workspace.h"

namespace swashwright::linkage {

/// Moves `ws` to the inputs (rad or mm, in the order of Plan::inputs, finite). Where that fails the workspace is put
/// back to the pose it came from and the report names the block that would not close.
Report solve(const Plan& plan, Workspace& ws, std::span<const double> inputs);

/// The same, but bodies on which nothing else depends (grips, servo horns) may not be placed yet: joints stand, and
/// `Workspace::angle` and `slide` are good. Call `settle` before you ask for such a body's placement or points, or for
/// derivatives.
Report solve_joints(const Plan& plan, Workspace& ws, std::span<const double> inputs);
void settle(const Plan& plan, Workspace& ws);

/// Starts at neutral and moves through the given inputs in straight lines, one after the other.
Report solve_from_neutral(const Plan& plan, Workspace& ws, std::span<const std::vector<double>> way);

/// Puts the workspace back to neutral.
void reset(const Plan& plan, Workspace& ws);

/// Makes the next solve do every block anew, whether or not its inputs changed. For benchmarks.
inline void forget(Workspace& ws) {
    ws.stale = ~std::uint64_t{0};
}

// Used by the planner and by the explanation of failures.

// How far a Newton step is trusted.
inline constexpr int max_newton_steps = 12;
inline constexpr double first_step_limit = 0.6;  // of the first correction: rad, or mm over the block's lever
inline constexpr double contraction = 0.25;      // each correction against the one before
inline constexpr double least_step = 1e-8;  // rad; below it a correction is quadratic noise: the next residual decides

enum class Outcome { closed, out_of_reach, astray };  // astray: the step was too long to be trusted

Outcome solve_block(const Plan& plan, Workspace& ws, const Block& block, Report& report, bool place_leaf = true);
Outcome solve_shared(const Plan& plan, Workspace& ws, const Block& block, Report& report);

}  // namespace swashwright::linkage
