// A head with one blade or one driver arm more or less; the rest of it stays as it was measured.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/description.h"

namespace swashwright::head {

inline constexpr int fewest_blades = 2, most_blades = 6;

/// A changed head, and what was assumed, as a sentence or two.
struct Changed {
    Description head;
    std::string assumed;
};
/// The error is a sentence.
using Change = tl::expected<Changed, std::string>;

/// A last blade behind the others, made as the one before it: grip, outer ball, upper link without its error, and the
/// shapes on the grip. The blades are spaced evenly anew, and each outer ball keeps its place relative to its own
/// blade.
Change with_blade_added(const Description& description);
/// Without blade `blade` (from 0); those after it move up, and all are spaced evenly anew.
Change with_blade_removed(const Description& description, int blade);

/// One more driver arm, made as the last and set where the gap between the arms is widest.
Change with_driver_added(const Description& description);
Change with_driver_removed(const Description& description, int pin);

/// The middle of the widest gap between angles round a turn, in [0, 360); 0 where there are none.
double widest_gap_deg(std::vector<double> angles);

}  // namespace swashwright::head
