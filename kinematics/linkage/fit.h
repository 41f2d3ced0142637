// What to say and show where a loop does not close: the least change of one length that would close it, and the pose
// that comes nearest.
#pragma once

#include "kinematics/linkage/solve.h"

namespace swashwright::linkage {

/// Moves a block's joints to a least-squares fit of its rows (Levenberg-Marquardt), each row's residual times its
/// weight. Returns the largest residual left, mm. Never fails; from a far start it finds a minimum, not always the
/// least.
double fit_block(const Plan& plan, Workspace& ws, const Block& block, std::span<const double> weights);

/// For a block that does not close: the link whose length would have to change least with all other closures met, and
/// by how much. Leaves the block at that pose. No value if no single link would do.
std::vector<Shortfall> explain_block(const Plan& plan, Workspace& ws, const Block& block);

/// Brings `ws` to `inputs` with every loop as near to closed as it comes. Empty if all close.
std::vector<Shortfall> solve_nearest(const Plan& plan, Workspace& ws, std::span<const double> inputs);

/// "upper link 2 is 1.30 mm too short to reach"; where all loops close at neutral, so that no length is at fault, "the
/// balls that upper link 2 joins are 1.30 mm too far apart".
std::string sentence(const Plan& plan, const Shortfall& shortfall);

}  // namespace swashwright::linkage
