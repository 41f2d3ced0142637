// From what the jaws read to middle to middle, and what a place reads now.
#include <algorithm>
#include <string>

#include "kinematics/head/solver.h"
#include "kinematics/studies/measured/calliper_places.h"

namespace swashwright::studies {
namespace {

std::optional<double> diameter(RoundEnd end, double as_described, const RoundSizes& sizes) {
    const std::optional<double>& measured = end == RoundEnd::ball    ? sizes.ball_mm
                                            : end == RoundEnd::boss  ? sizes.boss_mm
                                            : end == RoundEnd::shaft ? sizes.shaft_mm
                                                                     : sizes.pin_mm;
    if (end == RoundEnd::none) return std::nullopt;
    if (measured) return measured;
    return as_described > 0 ? std::optional(as_described) : std::nullopt;
}

}  // namespace

const CalliperPlace* find_place(const std::vector<CalliperPlace>& places, std::string_view key) {
    const auto found = std::ranges::find(places, key, &CalliperPlace::key);
    if (found != places.end()) return &*found;
    const auto to = key.find(" to ");
    if (to == std::string_view::npos) return nullptr;
    const std::string turned = std::string(key.substr(to + 4)) + " to " + std::string(key.substr(0, to));
    const auto other = std::ranges::find(places, turned, &CalliperPlace::key);
    return other == places.end() ? nullptr : &*other;
}

std::optional<double> half_ends(const CalliperPlace& place, const RoundSizes& sizes) {
    const auto a = diameter(place.ends[0], place.end_mm[0], sizes), b = diameter(place.ends[1], place.end_mm[1], sizes);
    if (!a || !b) return std::nullopt;
    return (*a + *b) / 2;
}

std::string cannot_lay(const CalliperPlace& place, const RoundSizes& sizes) {
    for (std::size_t e = 0; e < 2; ++e) {
        if (place.ends[e] == RoundEnd::none)
            return "jaws go neither over nor between its ends; expected it from middle to middle";
        if (!diameter(place.ends[e], place.end_mm[e], sizes))
            return place.ends[e] == RoundEnd::shaft ? "the shaft's diameter is not known (shaft_mm of [sizes])"
                                                    : "the pivot pin's diameter is not known (pin_mm of [sizes])";
    }
    return {};
}

std::optional<double> centre_to_centre(const CalliperPlace& place, double mm, Jaws jaws, const RoundSizes& sizes) {
    if (jaws == Jaws::centres) return mm;
    const auto ends = half_ends(place, sizes);
    if (!ends) return std::nullopt;
    return jaws == Jaws::over ? mm - *ends : mm + *ends;
}

std::optional<double> present_value(const CalliperPlace& place, const head::Head& head) {
    const double at_rest = place.at_rest({head.description(), head::assemble(head.description())});
    if (!place.at_mid_stick()) return at_rest;
    head::Solver solver(head);
    if (head.neutral_failure() || !solver.pose(head::Sticks{}, 0)) return std::nullopt;
    return at_rest + place.slide_sense * solver.workspace().slide(place.slides);
}

}  // namespace swashwright::studies
