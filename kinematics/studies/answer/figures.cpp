#include "kinematics/studies/answer/figures.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/azimuth.h"

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

std::string place_in_words(double azimuth_deg) {
    static constexpr std::array<const char*, 8> places{
        "the nose", "the nose on the left",  "the left",  "the tail on the left",
        "the tail", "the tail on the right", "the right", "the nose on the right"};
    const double turn = head::within_turn_deg(azimuth_deg);
    return places[static_cast<std::size_t>(std::lround(turn / 45.0)) % places.size()];
}

std::string teeth_turned(int teeth) {
    if (teeth == 0) return "as it is";
    return fmt::format("{} {}", std::abs(teeth) == 1 ? "one tooth" : fmt::format("{} teeth", std::abs(teeth)),
                       teeth > 0 ? "anticlockwise" : "clockwise");
}

std::string teeth_words(int teeth) {
    return teeth_turned(teeth) + ", seen on the horn's face";
}

}  // namespace swashwright::studies
