// Links are set in half turns, whole turns or flats: which numbers of them together bring the blades nearest?
#pragma once

#include <vector>

namespace swashwright::studies {

/// How much a shift of the mean counts beside a split.
inline constexpr double shift_counts = 0.2;

/// What counts, in deg, of blades that are set together.
struct StepsWanted {
    double mean_deg = 0;   // of all blades
    double each_step = 0;  // share of what it does to the mean that a step must gain; 0 where numbers are exact
};

/// Steps of each blade's link, searched together for the least of the split that is left plus a fifth of how far the
/// mean is off: a trim takes out a shift of the mean, nothing but a link takes out a split. `step_deg`: pitch that one
/// step makes, none of them 0.
std::vector<int> whole_steps(const std::vector<double>& pitch_deg, const std::vector<double>& step_deg,
                             const StepsWanted& wanted);

}  // namespace swashwright::studies
