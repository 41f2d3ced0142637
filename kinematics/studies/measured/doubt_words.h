// How a contradiction between readings, and all that is doubtful, is told. Internal to studies/measured.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies::measured {

/// `places` in words, each off by so many mm if it is that one; `times` in standard deviations.
std::string doubt_words(std::span<const std::string> places, std::span<const double> off_mm, double times,
                        bool left_out);

/// A line for each.
Table doubts_table(const std::vector<std::string>& doubts);

}  // namespace swashwright::studies::measured
