// What a measured head has to say, as sentences and tables.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/measured/doubt_words.h"
#include "kinematics/studies/measured/measured.h"

namespace swashwright::studies {
namespace {

std::string quoted(const MeasuredLayout& layout, const ReadingPlace& place) {
    return "\"" + words(layout, place) + "\"";
}

std::string doubt(const Contradiction& found, const MeasuredLayout& layout) {
    std::vector<std::string> places;
    for (const ReadingPlace& place : found.places) places.push_back(words(layout, place));
    return measured::doubt_words(places, found.off_mm, found.times, found.left_out);
}

std::vector<MeasuredDoubt> doubts_of_numbers(const Measured& m) {
    std::vector<const DerivedNumber*> doubtful;
    for (const DerivedNumber& number : m.numbers)
        if (number.pitch_deg.value_or(0) > doubtful_pitch_deg) doubtful.push_back(&number);
    std::ranges::stable_sort(doubtful, std::greater<>(), [](const DerivedNumber* n) { return *n->pitch_deg; });
    std::vector<MeasuredDoubt> out;
    for (const DerivedNumber* n : doubtful) {
        MeasuredDoubt& doubt = out.emplace_back(
            MeasuredDoubt{fmt::format("{}: {:.2f} mm is known to {:.2f} mm only, which moves a blade by {:.2f} deg.",
                                      n->words, n->value, n->sd, *n->pitch_deg)});
        if (n->from) doubt.places = {*n->from};
    }
    return out;
}

Table numbers_table(const Measured& m) {
    Table table;
    table.key = "numbers";
    table.title = "The head's numbers, each with one standard deviation, and what that does to a blade's pitch";
    table.columns = {{"number", "number", ""},
                     {"value_mm", "value", "mm", 3},
                     {"sd_mm", "±", "mm", 3},
                     {"pitch_deg", "pitch", "deg", 2},
                     {"from", "from", ""}};
    for (const DerivedNumber& n : m.numbers) {
        table.rows.push_back({n.words, n.value, n.sd, n.pitch_deg ? Cell(*n.pitch_deg) : Cell(),
                              std::string(n.from_default ? "assumption" : "readings")});
        table.parts.push_back(n.part);
    }
    return table;
}

Table links_table(const Measured& m) {
    Table table;
    table.key = "links";
    table.title = "Links, centre to centre: measured, and as a level ring and zero pitch need them";
    table.columns = {{"link", "link", ""},
                     {"measured_mm", "measured", "mm", 3},
                     {"needed_mm", "needed", "mm", 3},
                     {"over_mm", "too long by", "mm", 2, true},
                     {"sd_mm", "±", "mm", 2},
                     {"from", "from", ""}};
    for (const LinkFit& link : m.links) {
        table.rows.push_back({link.words, link.taken ? Cell(link.measured_mm) : Cell(), link.needed_mm,
                              link.taken ? Cell(link.over_mm()) : Cell(), link.sd_mm,
                              std::string(link.taken ? "readings" : "assumption")});
        table.parts.push_back(link.part);
    }
    return table;
}

std::string links_words(const Measured& m) {
    const LinkFit* worst = nullptr;
    for (const LinkFit& link : m.links)
        if (link.taken && (!worst || std::abs(link.over_mm()) > std::abs(worst->over_mm()))) worst = &link;
    if (!worst) return "No link was measured: all are as long as a level ring and zero pitch need them.";
    return fmt::format("Of the links, {} is farthest from level ring and zero pitch: {:.2f} mm too {} (± {:.2f} mm).",
                       worst->words, std::abs(worst->over_mm()), worst->over_mm() > 0 ? "long" : "short", worst->sd_mm);
}

}  // namespace

std::vector<MeasuredDoubt> ranked_doubts(const Measured& m, const MeasuredLayout& layout) {
    std::vector<MeasuredDoubt> out;
    if (!m.does_not_close.empty())
        out.push_back({fmt::format("With these numbers the linkage does not close: {}.", m.does_not_close)});
    std::vector<Contradiction> contradictions = m.contradictions;
    std::ranges::stable_sort(contradictions, std::greater<>(), &Contradiction::times);
    for (const Contradiction& found : contradictions) out.push_back({doubt(found, layout), found.places});
    for (const ReadingPlace& place : m.unusual)
        out.push_back(
            {fmt::format("The reading {} is outside the usual {:.0f} to {:.0f} mm: look at unit, sign and decimal.",
                         quoted(layout, place), info(place.taking).low, info(place.taking).high),
             {place}});
    for (std::size_t i = 0; i < m.missing.size(); ++i)
        out.push_back(
            {fmt::format("Not taken: {}; so {}.", quoted(layout, m.missing[i]), m.taken_for_them[i]), {m.missing[i]}});
    for (MeasuredDoubt& doubt : doubts_of_numbers(m)) out.push_back(std::move(doubt));
    return out;
}

std::vector<std::string> doubts(const Measured& m, const MeasuredLayout& layout) {
    std::vector<std::string> out;
    for (MeasuredDoubt& doubt : ranked_doubts(m, layout)) out.push_back(std::move(doubt.text));
    return out;
}

Answer answer(const Measured& m, const MeasuredLayout& layout) {
    const std::vector<std::string> doubtful = doubts(m, layout);
    Answer out;
    out.study = "measured";
    out.tone = !m.does_not_close.empty() ? Tone::trouble : doubtful.empty() ? Tone::calm : Tone::notice;
    const std::string count = doubtful.empty() ? "nothing is doubtful" : fmt::format("doubtful: {}", doubtful.size());
    const auto readings = static_cast<std::size_t>(m.readings);
    out.text = fmt::format("{} reading{} the head, {} of them confirmed by other readings; {}{}. {}", readings,
                           readings == 1 ? " makes" : "s make", m.checked, count,
                           measured::known_words(m.pitch_sd_deg, readings), links_words(m));
    out.tables = {measured::doubts_table(doubtful), links_table(m), numbers_table(m)};
    out.notes = {
        "Least squares over all readings; uncertainties by first-order propagation. A contradiction is a residual "
        "beyond 3 "
        "of its own standard deviations (Baarda 1968).",
        "Taken for granted: balls of one ring stand on one circle at one height, blades and grips are alike, the ring "
        "tilts "
        "about the middle of its sleeve, servo shafts lie level, and the angles that were chosen are exact.",
        "Calliper uncertainties are common practice, no source: 0.02 mm on a loose part, 0.05 mm over two balls, 0.1 "
        "mm "
        "between faces on the model."};
    return out;
}

}  // namespace swashwright::studies
