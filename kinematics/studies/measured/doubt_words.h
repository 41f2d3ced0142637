// How a contradiction between readings is told. Internal to studies/measured.
#pragma once

#include <span>
#include <string>

namespace swashwright::studies::measured {

/// `places` in words, each off by so many mm if it is that one; `times` in standard deviations.
std::string doubt_words(std::span<const std::string> places, std::span<const double> off_mm, double times,
                        bool left_out);

}  // namespace swashwright::studies::measured
