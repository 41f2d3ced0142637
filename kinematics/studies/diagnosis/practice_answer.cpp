// What is said of a hidden fault: while it is looked for, nothing of it; once a part is named, all.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/shown.h"
#include "kinematics/studies/answer/words.h"
#include "kinematics/studies/diagnosis/correction.h"
#include "kinematics/studies/diagnosis/fault_words.h"
#include "kinematics/studies/diagnosis/practice_play.h"
#include "kinematics/studies/diagnosis/reading_words.h"

namespace swashwright::studies {
namespace {

constexpr double shows_it = 3;  // uncertainties by which the fault moves a reading that shows it

std::string count_of_readings(std::size_t count) {
    return fmt::format("{} reading{}", count, count == 1 ? "" : "s");
}

/// One reading of either kind.
struct Row {
    std::string where, unit;
    double reads = 0, uncertainty = 0;
};

std::vector<Row> rows_of(head::Kind kind, const Readings& readings) {
    std::vector<Row> out;
    for (const PitchReading& r : readings.pitch)
        out.push_back({reading_words(kind, r), "deg", r.reading_deg, r.uncertainty_deg});
    for (const RingHeightReading& r : readings.ring_height)
        out.push_back({reading_words(kind, r), "mm", r.reading_mm, r.uncertainty_mm});
    return out;
}

/// `by_fault`: empty while nothing of it is told.
Table readings_table(head::Kind kind, const Readings& readings, const Readings& sound,
                     const std::vector<double>& by_fault) {
    const int of_fault = by_fault.empty() ? data_only : 2;
    Table out{"readings",
              "What the gauge read, and what a head without the fault shows there",
              {{"reading", "no.", "", 0},
               {"reads", "reads", "", 2, true},
               {"sound", "without it", "", 2, true},
               {"more", "more", "", 2, true},
               {"by_fault", "by the fault", "", of_fault, true},
               {"unit", "unit", ""},
               {"shows", "shows it", "", of_fault},
               {"where", "where", ""}},
              {},
              {}};
    const auto read = rows_of(kind, readings), as_meant = rows_of(kind, sound);
    for (std::size_t i = 0; i < read.size(); ++i) {
        const bool told = i < by_fault.size();
        out.rows.push_back(
            {static_cast<double>(i + 1), read[i].reads, as_meant[i].reads, read[i].reads - as_meant[i].reads,
             told ? Cell(by_fault[i] * read[i].uncertainty) : Cell(), read[i].unit,
             told ? Cell(std::string(std::abs(by_fault[i]) >= shows_it ? "yes" : "no")) : Cell(), read[i].where});
    }
    return out;
}

Table own_table(head::Kind kind, const Readings& readings) {
    Table out{
        "own",
        "What the program read of the same fault, each where it settles most",
        {{"reading", "no.", "", 0}, {"reads", "reads", "", 2, true}, {"unit", "unit", ""}, {"where", "where", ""}},
        {},
        {}};
    double number = 0;
    for (const Row& row : rows_of(kind, readings)) out.rows.push_back({++number, row.reads, row.unit, row.where});
    return out;
}

Table parts_table(const head::Description& d) {
    Table out{"parts", "Parts that can be named", {{"name", "name", ""}, {"part", "part", ""}}, {}, {}};
    for (const PartToName& part : parts_to_name(d)) {
        out.rows.push_back({part.key, part.words});
        out.parts.push_back(part.path);
    }
    return out;
}

std::vector<std::string> notes() {
    return {fmt::format(
                "The gauge is zeroed on the shaft and its zero was checked. A pitch reading is off by {} deg (one "
                "standard deviation) and shown to {} deg, a ring height by {} mm and shown to {} mm: common "
                "practice, no source. The same place reads the same whenever it is read first, but differently "
                "when it is read again.",
                PitchReading{}.uncertainty_deg, gauge_shows_deg, RingHeightReading{}.uncertainty_mm, calliper_shows_mm),
            "One thing is wrong and stays as it is: a stripped gear or a worn end, which never read twice the same, "
            "are not hidden. The head as described is taken as exact."};
}

/// "You needed 5 readings; 3 would do."
std::string score_words(std::size_t yours, const OwnPlay& own, bool own_right) {
    const std::size_t would_do = own.readings.size();
    const std::string said = yours == 0 ? "You named it without a reading" : "You needed " + count_of_readings(yours);
    if (!own_right) return said + ".";
    if (!own.settled) return fmt::format("{}; the program is not sure after {}.", said, would_do);
    if (yours > would_do) return fmt::format("{}; {} would do.", said, would_do);
    if (yours == would_do) return fmt::format("{}, and so does the program.", said);
    return fmt::format("{}; the program takes {} to be sure.", said, would_do);
}

/// Of who did not find it: "3 readings would tell."
std::string would_tell(const OwnPlay& own, bool own_right) {
    if (!own_right || !own.settled) return {};
    return capitalised(fmt::format("{} would tell.", count_of_readings(own.readings.size())));
}

std::string told_by(const PracticeScore& score) {
    if (score.by_fault.empty()) return {};
    const auto most = std::ranges::max_element(score.by_fault, {}, [](double by) { return std::abs(by); });
    const auto at = static_cast<std::size_t>(most - score.by_fault.begin());
    if (std::abs(*most) < shows_it)
        return "None of your readings shows it: where you read, it moves none by three times what a reading is off.";
    const bool pitch = at < score.readings.pitch.size();
    const double unit = pitch ? score.readings.pitch[at].uncertainty_deg : RingHeightReading{}.uncertainty_mm;
    return fmt::format("Your reading {} shows it best: the fault moves it by {} {}.", at + 1,
                       signed_figure(*most * unit, 2), pitch ? "deg" : "mm");
}

/// "upper link 1, 3 half turns longer"; of what is no link the correction alone.
std::string to_do(const HiddenFault& hidden) {
    const Correction c = correction(hidden.what(), hidden.size, hidden.described);
    return c.change_mm ? hidden.what().words + ", " + c.words : c.words;
}

std::string own_words(const PracticeScore& score) {
    if (score.own_right) return {};
    const std::string after = count_of_readings(score.own.readings.size());
    if (score.own_named.empty()) return fmt::format("The program itself can name no part after {}.", after);
    return fmt::format("The program itself named {} after {}, and was wrong.", score.own_named, after);
}

std::string verdict_words(const PracticeScore& score, const std::string& what) {
    switch (score.verdict) {
        case Verdict::right:
            return fmt::format("Right: {}.", what);
        case Verdict::as_well:
            return fmt::format(
                "Right as far as readings go. Hidden was: {}; not even {} pitch readings tell that from {}.", what,
                most_own_readings, score.named);
        case Verdict::wrong:
            return fmt::format("Not {}. Hidden was: {}.", score.named, what);
        case Verdict::given_up:
            break;
    }
    return fmt::format("Given up. Hidden was: {}.", what);
}

}  // namespace

Answer practice_readings(const HiddenFault& hidden, const Readings& readings, const Readings& sound) {
    const head::Description& d = hidden.described.description();
    const std::string taken =
        readings.size() == 0 ? "no reading is taken yet" : count_of_readings(readings.size()) + " so far";
    return {"practice",
            fmt::format("One fault is hidden in {}, number {}: {}. Read where it shows, then name the part.",
                        d.name.empty() ? "this head" : d.name, hidden.number, taken),
            Tone::calm,
            {readings_table(d.kind, readings, sound, {}), own_table(d.kind, {}), parts_table(d)},
            notes()};
}

Answer answer(const PracticeScore& score, const HiddenFault& hidden) {
    const bool found = score.verdict == Verdict::right || score.verdict == Verdict::as_well;
    const head::Description& d = hidden.described.description();
    const std::string what = fault_words(hidden.what(), hidden.size);
    std::string text;
    for (const std::string& one : {verdict_words(score, what),
                                   found ? score_words(score.readings.size(), score.own, score.own_right)
                                         : would_tell(score.own, score.own_right),
                                   told_by(score), own_words(score), fmt::format("What to do: {}.", to_do(hidden))})
        if (!one.empty()) text += (text.empty() ? "" : " ") + one;
    return {"practice",
            std::move(text),
            found ? Tone::calm : Tone::notice,
            {readings_table(d.kind, score.readings, score.sound, score.by_fault), own_table(d.kind, score.own.readings),
             parts_table(d)},
            notes()};
}

}  // namespace swashwright::studies
