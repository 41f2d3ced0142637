// Where a reading is taken, as one word of a command: "blade=2,azimuth=90,collective=1" or "ball=1,collective=-1".
#pragma once

#include <string>
#include <tl/expected.hpp>

#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::studies {

/// With all digits, sticks that are centred left out.
std::string place_text(const PitchReading& place);
std::string place_text(const RingHeightReading& place);  // at a ball

/// Adds the place to those of its kind; what is left out is 0. The error is a sentence.
tl::expected<void, std::string> add_place(Readings& to, const std::string& text);

}  // namespace swashwright::studies
