// Exact first derivatives of a few readings by any count of numbers, backwards: one transposed back-substitution for
// all readings together gives each closure its multiplier (the force along a link that would hold a unit load on the
// reading), and each number then costs one short product. Nothing is differenced. `Tangent` answers the other way
// round: the whole motion along one number.
#pragma once

#include <Eigen/Core>

#include "kinematics/linkage/touches.h"

namespace swashwright::linkage {

class Adjoint {
public:
    /// Readings by columns: a list of changes each (an input, a length, ...), added up.
    Adjoint(const Plan& plan, std::vector<Reading> readings, std::span<const std::vector<Change>> columns);

    /// Their weights may be set anew before each `at`; not what they weigh.
    Reading& reading(std::size_t index) { return readings_[index]; }
    /// Other changes of inputs in place of a column's own: how far a stick moves a servo depends on where it stands.
    void set_inputs(const Plan& plan, std::size_t column, std::span<const Change> changes) {
        touches_.set_inputs(plan, column, changes);
    }

    /// Takes the settled pose at which `ws` stands. Allocates nothing. Where a misfit is shared the motion in `ws` is
    /// overwritten. False at a dead point, where no derivative exists: then ask for none.
    bool at(const Plan& plan, Workspace& ws);
    /// By an input, mm or rad.
    double by_input(const Plan& plan, std::size_t reading, int input) const {
        const int freedom = 4 * plan.inputs()[static_cast<std::size_t>(input)].index;
        return weights_[static_cast<std::size_t>(freedom * width_) + reading];
    }
    using Table = Eigen::Map<Eigen::MatrixXd, 0, Eigen::OuterStride<>>;
    /// Readings by columns; stands until the next call.
    Table by_columns(const Plan& plan, Workspace& ws);

private:
    void weigh(const Workspace& ws);

    Linearised linearised_;
    std::vector<Reading> readings_;
    std::vector<std::vector<Term>> arms_;  // of each reading's terms: the joints that move it; of a rate none
    Touches touches_;
    int width_;
    std::vector<double> weights_, multipliers_, table_;
};

}  // namespace swashwright::linkage
