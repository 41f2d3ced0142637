// Numbers that can be set in steps only, rounded together: least squares over a grid, by branch and bound.
#pragma once

#include <Eigen/Core>
#include <vector>

namespace swashwright::studies {

/// Values that an unknown can be set to, ascending; empty if it can be set to anything.
using Grid = std::vector<double>;

/// The settings with the least |residual + jacobian (setting - x)|, best first, at most `keep`. Unknowns without a grid
/// follow at their best. Exact for the linear model (depth-first sphere search: Schnorr and Euchner, Math. Programming
/// 66, 1994) unless `max_nodes` ends it early; then the best found so far.
std::vector<Eigen::VectorXd> round_together(const Eigen::VectorXd& x, const Eigen::VectorXd& residual,
                                            const Eigen::MatrixXd& jacobian, const std::vector<Grid>& grids,
                                            std::size_t keep, int max_nodes = 200'000);

/// What each value of a grid costs, side by side with the grids.
using Prices = std::vector<std::vector<double>>;

/// Of the settings whose |residual + jacobian (setting - x)| exceeds the least by no more than `slack`, those that cost
/// least in all, cheapest first, at most `keep`; else as `round_together`.
std::vector<Eigen::VectorXd> round_sparingly(const Eigen::VectorXd& x, const Eigen::VectorXd& residual,
                                             const Eigen::MatrixXd& jacobian, const std::vector<Grid>& grids,
                                             const Prices& prices, double slack, std::size_t keep,
                                             int max_nodes = 200'000);

/// Each unknown to the value of its grid that is nearest, whatever the others do.
Eigen::VectorXd round_each(const Eigen::VectorXd& x, const std::vector<Grid>& grids);

}  // namespace swashwright::studies
