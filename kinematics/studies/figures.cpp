#include "kinematics/studies/figures.h"

#include <fmt/format.h>

#include <algorithm>

namespace swashwright::studies {

std::string figure(double value, int decimals) {
    std::string text = fmt::format("{:.{}f}", value, decimals);
    const bool nothing = std::ranges::all_of(text, [](char c) { return c == '-' || c == '.' || c == '0'; });
    return nothing && text.front() == '-' ? text.substr(1) : text;
}

std::string signed_figure(double value, int decimals) {
    const std::string text = figure(value, decimals);
    const bool nothing = std::ranges::all_of(text, [](char c) { return c == '.' || c == '0'; });
    return value > 0 && !nothing ? "+" + text : text;
}

}  // namespace swashwright::studies
