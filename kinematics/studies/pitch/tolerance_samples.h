// Heads drawn within tolerances and posed all round a turn, for `tolerance`.
#pragma once

#include <Eigen/Core>
#include <span>

#include "kinematics/studies/pitch/tolerance.h"

namespace swashwright::studies {

/// Mean pitch of every blade (rows) in every sample (columns) that could be posed.
struct Samples {
    Eigen::MatrixXd real, linear;
    int failed = 0;
};

/// `base` is the description of `head` with its mixer kept; `plus_minus` stands in for the request's own. `slopes` and
/// `nominal` are those of the linear model. The same draws whatever the number of workers; a head is posed in lanes, or
/// alone where lanes cannot tell.
Samples sampled(const head::Head& head, const head::Description& base, const ToleranceRequest& request,
                std::span<const double> plus_minus, const Eigen::VectorXd& nominal, const Eigen::MatrixXd& slopes,
                const Going& going);

}  // namespace swashwright::studies
