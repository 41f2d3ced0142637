// The slopes of every reading by many numbers at once: made once for a head and a list of numbers, then asked pose by
// pose. Per number it costs a fraction of `Solver::slopes_by`, which leaves the whole motion behind as this does not.
//
//     AllSlopes all(head, numbers(head.description()));
//     if (solver.pose(sticks, azimuth) && all.at(solver)) use(all.by_numbers(solver, sticks));
#pragma once

#include <span>
#include <utility>
#include <vector>

#include "kinematics/head/numbers.h"
#include "kinematics/head/solver.h"
#include "kinematics/linkage/adjoint.h"

namespace swashwright::head {

class AllSlopes {
public:
    /// What is read, in this order: height (mm), both tilts, the pitch of each blade (deg), then readings of one's own.
    static constexpr int height = 0, tilt_forward = 1, tilt_right = 2, first_pitch = 3;
    /// Numbers that move together, with the speed of each.
    using Together = std::vector<std::pair<Number, double>>;

    AllSlopes(const Head& head, std::span<const Number> numbers, std::vector<linkage::Reading> own = {});
    AllSlopes(const Head& head, std::span<const Together> columns, std::vector<linkage::Reading> own = {});

    int own() const { return first_pitch + static_cast<int>(head_.parts().grips.size()); }  // the first of one's own
    /// Its weights may be set anew before each `at`.
    linkage::Reading& own_reading(int index) { return adjoint_.reading(static_cast<std::size_t>(own() + index)); }

    /// Takes the solver's present pose, which must be of the same head. False at a dead point, where no slope exists.
    /// Allocates nothing; overwrites the motion in the workspace where a misfit is shared.
    bool at(Solver& solver);
    /// One row a reading, one column a number (or what moves together), per its unit. Stands until the next call.
    /// `sticks` matter for the mixing's own numbers only.
    using Table = linkage::Adjoint::Table;
    Table by_numbers(Solver& solver, const Sticks& sticks = {});

private:
    struct Columns {
        std::vector<std::vector<linkage::Change>> changes;
        std::vector<std::pair<std::size_t, Together>> mixed;  // columns that the sticks' place matters to
        struct Offset {
            int reading;
            std::size_t column;
            double by;
        };
        std::vector<Offset> offsets;  // of blades' pitch
    };
    template <class Each>
    static Columns columns_of(const Head& head, std::size_t count, Each each);
    AllSlopes(const Head& head, Columns columns, std::vector<linkage::Reading> own);

    Head head_;
    std::vector<std::pair<std::size_t, Together>> mixed_;
    std::vector<Columns::Offset> offsets_;
    linkage::Adjoint adjoint_;
    Sticks sticks_;  // for which the mixing's numbers stand
    std::vector<linkage::Change> changes_;
};

}  // namespace swashwright::head
