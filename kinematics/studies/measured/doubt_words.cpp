#include "kinematics/studies/measured/doubt_words.h"

#include <fmt/format.h>

#include <cmath>

#include "kinematics/studies/answer/figures.h"

namespace swashwright::studies::measured {

std::string times_words(double times) {
    return fmt::format("{:.0f} times what such readings usually differ by", times);
}

std::string doubt_words(std::span<const std::string> places, std::span<const double> off_mm, double times,
                        bool left_out) {
    if (left_out)
        return fmt::format("The reading \"{}\" is {:.2f} mm too {} for the others, {}. It was not used: measure again.",
                           places[0], std::abs(off_mm[0]), off_mm[0] > 0 ? "large" : "small", times_words(times));
    std::string list;
    for (std::size_t i = 0; i < places.size(); ++i)
        list += fmt::format("{}\"{}\" ({} mm)",
                            i == 0                   ? ""
                            : i + 1 == places.size() ? " or "
                                                     : ", ",
                            places[i], signed_figure(off_mm[i], 2));
    return fmt::format("One of these readings is off: {}, {}. Measure them again.", list, times_words(times));
}

std::string known_words(std::optional<double> pitch_sd_deg, std::size_t readings) {
    if (!pitch_sd_deg) return {};
    if (*pitch_sd_deg < settled_deg) return fmt::format("; pitch at mid stick is known to {:.2f} deg", *pitch_sd_deg);
    return fmt::format("; {} not settle the pitch at mid stick",
                       readings == 1 ? std::string("one reading does") : fmt::format("{} readings do", readings));
}

Table doubts_table(const std::vector<std::string>& list) {
    Table table;
    table.key = "doubts";
    table.title = "What is doubtful";
    table.columns = {{"doubt", "", ""}};
    for (const std::string& text : list) table.rows.push_back({text});
    return table;
}

}  // namespace swashwright::studies::measured
