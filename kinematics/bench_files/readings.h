// Bench readings in a file of their own, format 1 (TOML): text to readings and back. Keys: scenes/README.md.
#pragma once

#include <string>
#include <string_view>

#include "kinematics/scene/scene.h"
#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::scene {

struct ReadingsFile {
    studies::Readings readings;
    std::string note;  // shown to people; demos say here that they are invented
};

/// Reads readings from text; blades and balls count from 1 in the file. Reports every mistake, not only the first.
/// A blade or ball that `head` does not have is one; without a head that is the study's business (`studies::mistake`).
Result<ReadingsFile> parse_readings(std::string_view text, std::string file, const head::Description* head = nullptr);
Result<ReadingsFile> load_readings(const std::string& path, const head::Description* head = nullptr);
/// The readings as text; `parse_readings` gives the same numbers back, to the last bit, if they are within its ranges.
std::string write(const ReadingsFile& file);

}  // namespace swashwright::scene
