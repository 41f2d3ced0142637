#include "viewer/panels/base/lengths.h"
#include "kinematics/studies/answer/figures.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace swashwright::panels {

std::string length_number(double mm, bool inches, int decimals) {
    constexpr int inch_decimals = 4;  // 0.0001 in is 0.0025 mm, finer than a calliper reads
    return inches ? studies::figure(mm / mm_per_inch, std::max(inch_decimals, decimals + 1))
                  : studies::figure(mm, decimals);
}

std::string length_text(double mm, bool inches, int decimals) {
    return length_number(mm, inches, decimals) + (inches ? " in" : " mm");
}

std::string in_reading_unit(std::string words, bool inches) {
    if (inches && words.ends_with("mm")) words.replace(words.size() - 2, 2, "in");
    return words;
}

std::optional<double> typed_number(std::string_view text) {
    std::string clean(text);
    std::ranges::replace(clean, ',', '.');
    const auto first = clean.find_first_not_of(" +"), last = clean.find_last_not_of(' ');
    if (first == std::string::npos) return std::nullopt;
    const std::string_view body = std::string_view(clean).substr(first, last + 1 - first);
    double value = 0;
    const auto [end, error] = std::from_chars(body.data(), body.data() + body.size(), value);
    if (error != std::errc() || end != body.data() + body.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

std::optional<double> typed_length(std::string_view text, bool inches) {
    while (text.ends_with(' ')) text.remove_suffix(1);
    for (const auto& [unit, is_inch] : {std::pair{"mm", false}, {"in", true}, {"inch", true}, {"\"", true}})
        if (text.ends_with(unit)) {
            text.remove_suffix(std::string_view(unit).size());
            inches = is_inch;
            break;
        }
    const auto value = typed_number(text);
    return value ? std::optional(inches ? *value * mm_per_inch : *value) : std::nullopt;
}

}  // namespace swashwright::panels
