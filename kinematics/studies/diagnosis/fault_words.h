// A fault and its size as a builder says them.
#pragma once

#include <string>

#include "kinematics/studies/diagnosis/faults.h"

namespace swashwright::studies {

inline constexpr double for_95_percent = 1.959964;  // standard deviations either side, normal distribution

/// "± 0.07 mm, 95 %"
std::string spread_words(double deviation, const std::string& unit);

/// "lower link 3 is 0.59 mm too short"; of a fault without a size its words alone.
std::string fault_words(const Fault& fault, double size);
/// "lower link 3 is 0.59 mm too short (± 0.07 mm, 95 %)"; of a fault without a size its words alone.
/// `deviation`: one standard deviation of the size.
std::string fault_words(const Fault& fault, double size, double deviation);

}  // namespace swashwright::studies
