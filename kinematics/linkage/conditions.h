// One row's part in the conditions of a block that shares a misfit, for whoever knows which rows a change touches.
#pragma once

#include "kinematics/linkage/shared.h"

namespace swashwright::linkage {

/// Adds to `out` what the block's row brings to `conditions_along`.
void add_row_along(const Plan& plan, const Workspace& ws, const Block& block, const SharedSystem& system, int row,
                   const Changes* changes, double* out);

}  // namespace swashwright::linkage
