// Newton's method for the block on which sweeps spend most of their time: one body on a slide-and-ball joint, held by
// four links or slots from its own points to points that stand still meanwhile (the inner ring of a plain head). Any
// such block of any linkage is solved here; the equations are those of every square block (rows.h), laid out so that
// four rows go through the arithmetic side by side.
#pragma once

#include "kinematics/linkage/solve.h"

namespace swashwright::linkage {

/// The block's rows laid out for `solve_one_body`; none if the block has another shape.
std::optional<OneBody> one_body_rows(const Plan& plan, const Block& block);

/// As the general solver: `closed`, or `astray` where a step cannot be trusted. Each Jacobian serves two steps
/// (Shamanskii 1967: order 3 for the price of one inverse); both must pass the contraction test.
Outcome solve_one_body(const Plan& plan, Workspace& ws, const Block& block, Report& report);

}  // namespace swashwright::linkage
