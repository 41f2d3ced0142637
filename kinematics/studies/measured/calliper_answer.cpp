// What a head measured place by place has to say, as sentences and tables.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/measured/calliper_fit.h"
#include "kinematics/studies/measured/doubt_words.h"
#include "kinematics/studies/measured/measured.h"

namespace swashwright::studies {
namespace {

std::string conflict_words(const CalliperFit& fit, const measured::Conflict& found) {
    const PlacedReading& first = fit.readings[found.rows[0]];
    if (found.left_out && first.checked_by != CheckedBy::readings)
        return fmt::format(
            "The reading \"{}\" is {:.2f} mm too {} for the scene, {}, and no other reading tells. It was not used: "
            "measure again; if it stays, put a length nearer to it into the scene.",
            first.place.words, std::abs(found.off[0]), found.off[0] > 0 ? "large" : "small",
            measured::times_words(found.times));
    std::vector<std::string> places;
    for (const std::size_t row : found.rows) places.push_back(fit.readings[row].place.words);
    return measured::doubt_words(places, found.off, found.times, found.left_out);
}

std::string with_unit(double value, head::Unit unit) {
    return fmt::format("{} {}", figure(value, 2), head::words_of(unit));
}

/// Where a part is measured; those first that were not read yet.
std::vector<std::string> places_of(const CalliperFit& fit, const std::string& part) {
    std::vector<std::string> out;
    for (const CalliperPlace& place : fit.places)
        if (place.part == part) out.push_back(place.key);
    std::ranges::stable_sort(out, [&](const std::string& a, const std::string& b) {
        const auto read = [&](const std::string& key) {
            return std::ranges::any_of(fit.readings, [&](const PlacedReading& r) { return r.place.key == key; });
        };
        return !read(a) && read(b);
    });
    return out;
}

std::vector<CalliperDoubt> doubts_of_numbers(const CalliperFit& fit) {
    std::vector<const CalliperNumber*> doubtful;
    for (const CalliperNumber& number : fit.numbers)
        if (number.pitch_deg.value_or(0) > doubtful_pitch_deg) doubtful.push_back(&number);
    std::ranges::stable_sort(doubtful, std::greater<>(), [](const CalliperNumber* n) { return *n->pitch_deg; });
    std::vector<CalliperDoubt> out;
    for (const CalliperNumber* n : doubtful)
        out.push_back({fmt::format("{}: {} is known to {} only, which moves a blade by {:.2f} deg.", n->label,
                                   with_unit(n->value, n->unit), with_unit(n->sd, n->unit), *n->pitch_deg),
                       places_of(fit, n->part)});
    return out;
}

/// Of the largest contradiction: " Take again: inner ring, ball 1 to ball 2 or inner ring, ball 1 to the shaft's
/// middle."; empty where there is none.
std::string to_take_again(const CalliperFit& fit) {
    if (fit.conflicts.empty()) return {};
    std::string out;
    for (const std::size_t row : fit.conflicts[0].rows) {
        std::string place = fit.readings[row].place.words;
        if (const std::size_t colon = place.find(": "); colon != std::string::npos) place[colon] = ',';
        out += (out.empty() ? " Take again: " : " or ") + place;
    }
    return out + ".";
}

std::size_t count_of(const CalliperFit& fit, Told told) {
    return static_cast<std::size_t>(
        std::ranges::count_if(fit.numbers, [&](const CalliperNumber& n) { return n.told() == told; }));
}

const char* words_of(Told told) {
    return told == Told::yes ? "readings" : told == Told::partly ? "readings and scene" : "scene";
}

const char* words_of(const PlacedReading& r) {
    if (!r.used) return "no";
    return r.checked_by == CheckedBy::readings ? "yes, confirmed"
           : r.checked_by == CheckedBy::scene  ? "yes, confirmed by scene"
                                               : "yes";
}

Table readings_table(const CalliperFit& fit) {
    Table table;
    table.key = "readings";
    table.title =
        "Readings from middle to middle, what the scene and the measured head give, and how far off each is "
        "for the others";
    table.columns = {{"place", "place", ""},
                     {"read_mm", "read", "mm", 2},
                     {"scene_mm", "scene", "mm", 2},
                     {"fitted_mm", "fitted", "mm", 2},
                     {"off_mm", "off by", "mm", 2, true},
                     {"times", "doubts", "", 1},
                     {"used", "used", ""}};
    for (const PlacedReading& r : fit.readings) {
        table.rows.push_back({r.place.words, r.mm, r.before ? Cell(*r.before) : Cell(),
                              r.fitted ? Cell(*r.fitted) : Cell(), r.fitted ? Cell(r.mm - *r.fitted) : Cell(),
                              r.checked_by != CheckedBy::nothing ? Cell(r.times) : Cell(), std::string(words_of(r))});
        table.parts.push_back(r.place.part);
    }
    return table;
}

Table numbers_table(const CalliperFit& fit) {
    Table table;
    table.key = "numbers";
    table.title = "The head's numbers, each with one standard deviation, and how far a blade's pitch goes with it";
    table.columns = {{"number", "number", ""},         {"path", "path", ""}, {"scene", "scene", "", 3},
                     {"value", "measured", "", 3},     {"sd", "±", "", 3},   {"unit", "unit", ""},
                     {"pitch_deg", "pitch", "deg", 2}, {"from", "from", ""}};
    for (const CalliperNumber& n : fit.numbers) {
        table.rows.push_back({n.label, n.path, n.before, n.value, n.sd, std::string(head::words_of(n.unit)),
                              n.pitch_deg ? Cell(*n.pitch_deg) : Cell(), std::string(words_of(n.told()))});
        table.parts.push_back(n.part);
    }
    return table;
}

/// "lower link 1, length, lower link 2, length and 4 more"
std::string untold_words(const CalliperFit& fit) {
    constexpr std::size_t most = 6;
    std::string out;
    std::size_t told = 0;
    for (const CalliperNumber& n : fit.numbers) {
        if (n.told() != Told::no) continue;
        if (++told <= most) out += (out.empty() ? "" : "; ") + n.label;
    }
    return told > most ? fmt::format("{}; and {} more (from: scene)", out, told - most) : out;
}

}  // namespace

std::vector<CalliperDoubt> ranked_doubts(const CalliperFit& fit) {
    std::vector<CalliperDoubt> out;
    if (!fit.does_not_close.empty())
        out.push_back({fmt::format("With these numbers the linkage does not close: {}.", fit.does_not_close)});
    std::vector<measured::Conflict> conflicts = fit.conflicts;
    std::ranges::stable_sort(conflicts, std::greater<>(), &measured::Conflict::times);
    for (const measured::Conflict& found : conflicts) {
        CalliperDoubt& doubt = out.emplace_back(CalliperDoubt{conflict_words(fit, found)});
        for (const std::size_t row : found.rows) doubt.places.push_back(fit.readings[row].place.key);
    }
    if (fit.without_mid_stick)
        out.push_back(
            {"What was read with the sticks in the middle was not used: the linkage does not close there yet."});
    for (CalliperDoubt& doubt : doubts_of_numbers(fit)) out.push_back(std::move(doubt));
    if (const std::string untold = untold_words(fit); !untold.empty()) {
        CalliperDoubt& doubt = out.emplace_back(
            CalliperDoubt{fmt::format("No reading tells: {}. They stay as the scene has them.", untold)});
        for (const CalliperNumber& n : fit.numbers)
            if (n.told() == Told::no)
                for (std::string& key : places_of(fit, n.part)) doubt.places.push_back(std::move(key));
    }
    return out;
}

std::vector<std::string> doubts(const CalliperFit& fit) {
    std::vector<std::string> out;
    for (CalliperDoubt& doubt : ranked_doubts(fit)) out.push_back(std::move(doubt.text));
    return out;
}

Answer answer(const CalliperFit& fit) {
    const std::vector<std::string> doubtful = doubts(fit);
    const auto confirmed = std::ranges::count(fit.readings, CheckedBy::readings, &PlacedReading::checked_by);
    const bool one = fit.readings.size() == 1;
    Answer out;
    out.study = "measured";
    out.tone = !fit.does_not_close.empty()                       ? Tone::trouble
               : fit.conflicts.empty() && !fit.without_mid_stick ? Tone::calm
                                                                 : Tone::notice;
    out.text = fmt::format("{} reading{}, {} confirmed by other readings, settle{} {} of {} numbers",
                           fit.readings.size(), one ? "" : "s", confirmed, one ? "s" : "",
                           fit.numbers.size() - count_of(fit, Told::no), fit.numbers.size());
    if (fit.conflicts.empty()) out.text += "; none contradicts the others";
    out.text += measured::known_words(fit.pitch_sd_deg, fit.readings.size()) + "." + to_take_again(fit);
    if (fit.next)
        out.text += fmt::format(" Best measured next: {}{}.", fit.next->place.words,
                                fit.next->pitch_sd_deg < measured::settled_deg
                                    ? fmt::format(" (pitch then to {:.2f} deg)", fit.next->pitch_sd_deg)
                                    : "");
    out.tables = {measured::doubts_table(doubtful), readings_table(fit), numbers_table(fit)};
    out.notes = {
        "Least squares over all readings, the scene's word for each number among them with the number's usual fault as "
        "its standard deviation (where the scene is guessed, lengths with 100 times as much); uncertainties by "
        "first-order propagation. A contradiction is a residual beyond 3 of its own standard deviations (Baarda 1968): "
        "where one reading alone explains it, that reading is not used.",
        "Taken for granted: directions of axes, the diameters of balls, bosses, pins and shaft, and that the head's "
        "make-up is the scene's.",
        "Calliper uncertainties and usual faults are common practice, no source: 0.03 mm on a loose link, 0.05 mm over "
        "balls, 0.1 mm on the model, 0.2 mm along an axis that is only seen."};
    return out;
}

Answer places_answer(const head::Head& head) {
    const std::vector<CalliperPlace> places = calliper_places(head);
    Table table;
    table.key = "places";
    table.title =
        "Where a calliper goes, in the order of work: what is measured, its key for a file, what the scene gives "
        "from middle to middle, and what else jaws may read";
    table.columns = {{"place", "place", ""},
                     {"key", "key", ""},
                     {"scene_mm", "scene", "mm", 2},
                     {"sd_mm", "±", "mm", 2},
                     {"jaws", "jaws", ""}};
    for (const CalliperPlace& place : places) {
        const auto value = present_value(place, head);
        const bool round = place.ends[0] != RoundEnd::none && place.ends[1] != RoundEnd::none;
        table.rows.push_back({place.words, place.key, value ? Cell(*value) : Cell(), place.sd,
                              std::string(round ? "over, between" : "-")});
        table.parts.push_back(place.part);
    }
    Answer out;
    out.study = "measured";
    out.text = fmt::format("{} has {} places for a calliper.",
                           head.description().name.empty() ? "The head" : head.description().name, places.size());
    out.tables = {std::move(table)};
    out.notes = {"Middle to middle unless the file says jaws = \"over\" (outside both ends) or \"between\" (the gap).",
                 "Heights are along the shaft, on a ring from its middle with the ring level; left is as seen from "
                 "above, ahead in the "
                 "direction of rotation, along a pivot pin from the pivot's middle the way its axis points; minus the "
                 "other way.",
                 "Mid stick: horns at neutral, blade 1 over the tail."};
    return out;
}

}  // namespace swashwright::studies
