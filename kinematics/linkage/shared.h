// Blocks with more closures than unknowns. Rows that give share the misfit: half the sum of their squared residuals is
// least while the exact rows hold. With multipliers m the conditions are
//
//     G = Jg' rg + Je' m = 0,    re = 0,
//
// solved by Newton. Their derivatives, the residual times second-derivative terms included, are taken with dual numbers
// along exact first-order motions, so they are exact to rounding. In these blocks a link's residual is its true misfit
// d - L, not the squared form used where it vanishes.
#pragma once

#include "kinematics/linkage/motion.h"
#include "kinematics/linkage/small_lu.h"

namespace swashwright::linkage {

struct SharedSystem {
    explicit SharedSystem(const Block& block) : lu(block.unknowns + block.exact) {}

    SmallLu<0> lu;  // the conditions' Jacobian, rows G then re, columns unknowns then multipliers
    double conditions[max_block];
    double multipliers[max_block] = {};
};

/// Conditions at the pose at which `ws` stands, with `system.multipliers`.
void evaluate_conditions(const Plan& plan, const Workspace& ws, const Block& block, SharedSystem& system);
/// Their change along the motion in `ws` (spin, drift, ...) and `changes`, multipliers held: written to `out`.
void conditions_along(const Plan& plan, const Workspace& ws, const Block& block, const SharedSystem& system,
                      const Changes* changes, double* out);
/// Fills and factors `system.lu`. Overwrites the motion in `ws`. False if singular.
bool linearise_conditions(const Plan& plan, Workspace& ws, const Block& block, SharedSystem& system);
/// The multipliers at the minimum that one step from the pose of `ws` foresees: the conditions are linear in them.
/// Overwrites `system.lu` and the motion in `ws`. False if singular.
bool find_multipliers(const Plan& plan, Workspace& ws, const Block& block, SharedSystem& system);

}  // namespace swashwright::linkage
