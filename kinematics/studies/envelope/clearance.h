// How near do parts come to one another?
#pragma once

#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include "kinematics/studies/envelope/check.h"
#include "kinematics/studies/envelope/part_solids.h"
#include "kinematics/studies/envelope/surface.h"

namespace swashwright::studies {

/// Between two straight lines' ends and middles (Ericson, Real-Time Collision Detection, 5.1.9), less both radii;
/// overlapping, minus the depth.
Gap gap_between(const Capsule& a, const Capsule& b);

/// One check a pair of parts that are not joined. Values are true distances where they are below `far_mm_of`, else a
/// lower bound. Overlapping capsules give minus their depth; where a box, cylinder or mesh overlaps, the value is 0 or
/// less and says no depth. A mesh is a skin: what is wholly within it does not touch it.
class ClearanceChecker : public Checker {
public:
    /// Where the pair of check `i` comes nearest, at the pose last looked at.
    virtual Gap nearest(std::size_t i) = 0;
    /// Pairs left out since the shapes made from the description overlap at neutral already. Never two links, whose
    /// sizes are given.
    std::vector<std::string> left_out() const override = 0;
};

/// Gaps of so much and more are not told apart.
inline double far_mm_of(const Check& check) {
    return std::max(10.0, 2 * check.low);
}

/// True of a gap that is only known to be no less than `value`.
inline bool is_lower_bound(const Check& check, double value) {
    return check.kind == CheckKind::clearance && value >= far_mm_of(check);
}

std::unique_ptr<ClearanceChecker> clearance_checker(const head::Head& head);

}  // namespace swashwright::studies
