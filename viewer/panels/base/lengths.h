// Lengths as people read them: millimetres, or inches where the settings say so. Scenes and the library stay in mm.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace swashwright::panels {

inline constexpr double mm_per_inch = 25.4;  // exact, by the international yard and pound agreement of 1959

/// The number alone: as many decimals as asked for in mm, at least four in inches.
std::string length_number(double mm, bool inches, int decimals = 2);
/// With its unit: "0.4921 in".
std::string length_text(double mm, bool inches, int decimals = 2);
/// The number alone as exactly as it is known: all of its digits in mm, to 0.0001 in inches.
std::string whole_length(double mm, bool inches);
/// Words that end in "mm", with the unit that lengths are read in: "horn mm" becomes "horn in".
std::string in_reading_unit(std::string words, bool inches);
/// A sentence of a study, with every "0.30 mm" in it in the unit that lengths are read in; forces and moments stay.
/// They are as exact as the millimetres that stand there.
std::string lengths_read(std::string text, bool inches);
/// A typed length in mm: with a unit ("12.5 mm", "0.492 in", "0.492\""), or without in the one that lengths are read
/// in. None if it is not a number.
std::optional<double> typed_length(std::string_view text, bool inches);
/// A typed number; a decimal comma is taken for a point. None if it is not a finite number.
std::optional<double> typed_number(std::string_view text);

}  // namespace swashwright::panels
