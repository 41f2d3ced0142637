#include "kinematics/studies/questions/finite_number.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace swashwright::studies {

std::optional<double> finite_number(std::string_view text) {
    if (text.starts_with('+') && !text.starts_with("+-")) text.remove_prefix(1);
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

NamedNumber named_number(std::string_view text, double most) {
    const std::size_t equals = text.find('=');
    if (equals == std::string_view::npos) return {text, std::nullopt};
    const auto number = finite_number(text.substr(equals + 1));
    return {text.substr(0, equals), number && *number >= 0 && *number <= most ? number : std::nullopt};
}

}  // namespace swashwright::studies
