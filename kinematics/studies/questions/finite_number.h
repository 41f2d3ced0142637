// Numbers in texts that people write.
#pragma once

#include <optional>
#include <string_view>

namespace swashwright::studies {

/// A finite number in plain or exponent form, with a point whatever the locale; none if it is anything else.
std::optional<double> finite_number(std::string_view text);

inline constexpr double most_angle_deg = 3600;  // that may be written, as in a scene file

/// "upper_link[2]=15": what stands before the equals sign, and the number behind it, if it is one from 0 to `most`.
struct NamedNumber {
    std::string_view name;
    std::optional<double> number;
};
NamedNumber named_number(std::string_view text, double most);

}  // namespace swashwright::studies
