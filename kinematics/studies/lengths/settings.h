// From exact numbers to those that a builder sets.
#pragma once

#include "kinematics/studies/lengths/problem.h"
#include "kinematics/studies/lengths/rounding.h"

namespace swashwright::studies {

/// The same least squares with as few numbers changed as one by one shows: each is tried at its present value, those
/// that change least first and those known to be off last, and left there if the others can do without it and stay long
/// enough for their ends.
BoundedFit fewest_changes(const Problem& problem, const LengthsRequest& request, const Bounds& bounds,
                          const BoundedFit& exact);

/// Values that a free number can be set to, near `x` and within its bounds.
Grid grid_of(const head::Description& d, const FreeNumber& free, double x, bool trim_the_rest);

/// The best settings with the stepped numbers held at what `setting` says and the others fitted anew.
BoundedFit held(const Problem& problem, const Bounds& bounds, const std::vector<Grid>& grids,
                const Eigen::VectorXd& setting);

/// The stepped numbers rounded together, tried on the linkage: of those that come as close as `start` and as the best,
/// give or take, the one that changes least.
BoundedFit best_setting(const Problem& problem, const LengthsRequest& request, const Bounds& bounds,
                        const std::vector<Grid>& grids, const BoundedFit& exact, const BoundedFit& start);

}  // namespace swashwright::studies
