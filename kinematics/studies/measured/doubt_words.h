// How a contradiction between readings, and all that is doubtful, is told. Internal to studies/measured.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies::measured {

/// "11 times what such readings usually differ by", of so many standard deviations.
std::string times_words(double times);
/// `places` in words, each off by so many mm if it is that one; `times` in standard deviations.
std::string doubt_words(std::span<const std::string> places, std::span<const double> off_mm, double times,
                        bool left_out);

inline constexpr double settled_deg = 5;  // a pitch that is known no closer is not known; a guess
/// "; pitch at mid stick is known to 0.42 deg", or that so many readings do not settle it; empty where there is none.
std::string known_words(std::optional<double> pitch_sd_deg, std::size_t readings);

/// A line for each.
Table doubts_table(const std::vector<std::string>& doubts);

}  // namespace swashwright::studies::measured
