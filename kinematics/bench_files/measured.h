// Calliper readings that make a head, in a file of their own, format 1 (TOML): text to readings and back. Keys:
// scenes/README.md, "Calliper readings".
#pragma once

#include <string>
#include <string_view>

#include "kinematics/scene/scene.h"
#include "kinematics/studies/measured/measured_readings.h"

namespace swashwright::scene {

struct MeasuredFile {
    studies::MeasuredHead measured;
    std::string note;  // shown to people; demos say here that they are invented
};

/// Reads calliper readings from text; servos and links count from 1 in the file. Reports every mistake, not only the
/// first.
Result<MeasuredFile> parse_measured(std::string_view text, std::string file);
Result<MeasuredFile> load_measured(const std::string& path);
/// The readings as text; `parse_measured` gives the same numbers back, to the last bit, if they are within its ranges.
std::string write(const MeasuredFile& file);
/// What the note of the head made from them says.
std::string note_of_measured(const MeasuredFile& file);

}  // namespace swashwright::scene
