// Closing the loops of a linkage.
//
//   Workspace ws(plan);                          // at neutral
//   solve(plan, ws, inputs);                     // from wherever ws stands: for sweeps; allocates nothing
//   solve_from_neutral(plan, ws, {via, inputs}); // the same pose whatever came before
//
// The branch followed is the one continuous with the pose from which a solve starts. A Newton step is taken on trust
// only while its corrections shrink at least fourfold (the monotonicity test of Deuflhard, Newton Methods for Nonlinear
// Problems, 2004, section 2.1) and the Jacobian's determinant keeps its sign; otherwise the way there is halved.
// A warm solve and one from neutral end on the same branch unless the envelope has a hole (poses that cannot be
// assembled) between them; a result that must not depend on earlier calls comes from `solve_from_neutral`.
#pragma once

#include <span>

#include "kinematics/linkage/workspace.h"

namespace swashwright::linkage {

/// Moves `ws` to the inputs (rad or mm, in the order of Plan::inputs, finite). Where that fails the workspace is put
/// back to the pose it came from and the report names the block that would not close.
Report solve(const Plan& plan, Workspace& ws, std::span<const double> inputs);

/// Starts at neutral and moves through the given inputs in straight lines, one after the other.
Report solve_from_neutral(const Plan& plan, Workspace& ws, std::span<const std::vector<double>> way);

/// Puts the workspace back to neutral.
void reset(const Plan& plan, Workspace& ws);

/// Makes the next solve do every block anew, whether or not its inputs changed. For benchmarks.
inline void forget(Workspace& ws) { ws.stale = ~std::uint64_t{0}; }

// Used by the planner and by the explanation of failures.

enum class Outcome { closed, out_of_reach, astray };  // astray: the step was too long to be trusted

Outcome solve_block(const Plan& plan, Workspace& ws, const Block& block, Report& report);
Outcome solve_shared(const Plan& plan, Workspace& ws, const Block& block, Report& report);

}  // namespace swashwright::linkage
