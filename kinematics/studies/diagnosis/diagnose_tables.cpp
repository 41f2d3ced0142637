#include "kinematics/studies/diagnosis/diagnose_tables.h"

#include <fmt/format.h>

#include <algorithm>

#include "kinematics/studies/answer/shown.h"
#include "kinematics/studies/diagnosis/fault_words.h"
#include "kinematics/studies/diagnosis/reading_words.h"

namespace swashwright::studies {
namespace {

constexpr std::size_t least = 3;           // explanations in the table whatever their probability
constexpr double a_lot = 1.0, some = 0.3;  // nats: the suspects' joint spread shrinks to 0.37, to 0.74

constexpr double worth_a_word = 0.05;  // chance from which a reading may be wrong

std::string part_of(const Diagnosis& d, int suspect) {
    return suspect == the_stand ? "" : d.suspects[static_cast<std::size_t>(suspect)].part;
}

Table explanations(const Diagnosis& d) {
    Table out{
        "explanations",
        "Explanations, most probable first; a pair has two rows (plus: longer, or more; of a trim anticlockwise, "
        "seen on the horn's face; of a guide anticlockwise, seen from above; of a pitch arm the way its blade turns "
        "for more pitch)",
        {{"rank", "rank", "", 0},
         {"suspect", "suspect", ""},
         {"size", "size", "", 3, true},
         {"plus_minus_95", "± 95 %", "", 3},
         {"unit", "unit", ""},
         {"chi_square", "left over", "", 1},
         {"probability_percent", "probable", "%", 1}},
        {},
        {}};
    for (std::size_t h = 0; h < d.ranked.size(); ++h) {
        const Hypothesis& hypothesis = d.ranked[h];
        const FaultFit& found = hypothesis.fit;
        const double rank = static_cast<double>(h + 1);
        if (found.faults.empty()) {
            out.rows.push_back(
                {rank, std::string("nothing wrong"), {}, {}, {}, found.chi_square, 100 * hypothesis.probability});
            out.parts.emplace_back();
            continue;
        }
        if (h >= most_explanations || (h >= least && hypothesis.probability < 0.005)) continue;
        for (std::size_t i = 0; i < found.faults.size(); ++i) {
            const Fault& fault = d.suspects[static_cast<std::size_t>(found.faults[i])];
            std::vector<Cell> row{i == 0 ? Cell(rank) : Cell(), fault.words, {}, {}, {}, {}, {}};
            if (fault.sized()) {
                row[2] = found.size[static_cast<Eigen::Index>(i)];
                row[3] = for_95_percent * found.deviation(i);
                row[4] = fault.unit;
            }
            if (i == 0) row[5] = found.chi_square, row[6] = 100 * hypothesis.probability;
            out.rows.push_back(std::move(row));
            out.parts.push_back(fault.part);
        }
    }
    return out;
}

Table corrections(const Diagnosis& d) {
    Table out{"corrections",
              "What to do about each",
              {{"rank", "rank", "", 0},
               {"suspect", "suspect", ""},
               {"change_mm", "change", "mm", data_only, true},  // longer +
               {"turns", "change", "turns", data_only, true},   // of the turnbuckle, or of one end of a plain rod
               {"set", "do", ""}},
              {},
              {}};
    for (std::size_t h = 0; h < d.ranked.size(); ++h)
        for (std::size_t i = 0; i < d.ranked[h].corrections.size(); ++i) {
            const Fault& fault = d.suspects[static_cast<std::size_t>(d.ranked[h].fit.faults[i])];
            const Correction& c = d.ranked[h].corrections[i];
            out.rows.push_back({static_cast<double>(h + 1), fault.words, c.change_mm ? Cell(*c.change_mm) : Cell(),
                                c.turns ? Cell(*c.turns) : Cell(), c.words});
            out.parts.push_back(c.part);
        }
    return out;
}

Table not_told_apart(const Diagnosis& d) {
    Table out{"not_told_apart",
              fmt::format("These readings cannot tell apart (how far apart they are in what is read: under {:.0f})",
                          told_apart),
              {{"suspect", "suspect", ""},
               {"instead_of", "in place of", ""},
               {"chi_square", "difference", "", 2},
               {"told_by", "would be told by", ""}},
              {},
              {}};
    for (const StandIn& s : d.stand_ins) {
        const std::string cure = cure_words(d, s);
        out.rows.push_back({suspect_words(d, s.fault), suspect_words(d, s.instead_of), s.chi_square,
                            cure.empty() ? Cell() : Cell(cure)});
        out.parts.push_back(part_of(d, s.fault));
    }
    return out;
}

Table never_told_apart(const Diagnosis& d) {
    Table out{"never_told_apart",
              "No pitch gauge and no ring height, at any stick and azimuth, can tell these apart",
              {{"suspect", "suspect", ""}, {"same_as", "does exactly what this does", ""}},
              {},
              {}};
    for (const Twins& t : d.twins) {
        std::string same;
        for (const int f : t.same_as)
            same += (same.empty() ? "" : " with ") + d.suspects[static_cast<std::size_t>(f)].words;
        const Fault& fault = d.suspects[static_cast<std::size_t>(t.fault)];
        out.rows.push_back({fault.words, same});
        out.parts.push_back(fault.part);
    }
    return out;
}

/// Columns of the sticks that this head has, and a row's cells in them.
void add_stick_columns(std::vector<Column>& columns, bool tail) {
    if (tail)
        columns.push_back({"rudder", "rudder", "", 0, true});
    else
        columns.insert(columns.end(), {{"collective", "coll.", "", 0, true},
                                       {"aileron", "aileron", "", 0, true},
                                       {"elevator", "elev.", "", 0, true}});
}

void add_sticks(std::vector<Cell>& row, const head::Sticks& sticks, bool tail) {
    if (tail)
        row.emplace_back(sticks.rudder);
    else
        row.insert(row.end(), {sticks.collective, sticks.aileron, sticks.elevator});
}

Table next(const Diagnosis& d) {
    const bool tail = d.kind == head::Kind::tail;
    std::vector<Column> columns{{"blade", "blade", "", 0}};
    add_stick_columns(columns, tail);
    columns.insert(columns.end(), {{"azimuth_deg", "azimuth", "deg", 0},
                                   {"expected_deg", "if rank 1", "deg", 2, true},
                                   {"rival_deg", "if rank 2", "deg", 2, true},
                                   {"gain_nats", "gain", "nats", data_only},
                                   {"settles", "settles", ""}});
    Table out{"next_readings",
              tail ? "Read next, best first (azimuth of blade 1, 0 where it points away from the nose; rudder: right +)"
                   : "Read next, best first (azimuth of blade 1, 0 over the tail; sticks: up, right, forward +)",
              std::move(columns),
              {},
              {}};
    for (const Advice& a : d.next_readings) {
        const PitchReading& r = a.where;
        std::vector<Cell> row{static_cast<double>(r.blade + 1)};
        add_sticks(row, r.sticks, tail);
        row.insert(row.end(), {r.azimuth_deg, r.reading_deg, a.rival_deg ? Cell(*a.rival_deg) : Cell(), a.gain,
                               std::string(settles_words(a.gain))});
        out.rows.push_back(std::move(row));
        out.parts.push_back(fmt::format("grip[{}]", r.blade + 1));
    }
    return out;
}

std::string looks_like(const CheckedReading& checked) {
    if (checked.chance_wrong < worth_a_word) return {};
    switch (checked.how) {
        case Misreading::sign:
            return "sign wrong";
        case Misreading::blade:
            return fmt::format("of blade {}", checked.blade + 1);
        default:
            return "misread";
    }
}

Table readings_table(const Diagnosis& d, const Readings& readings) {
    const bool tail = d.kind == head::Kind::tail;
    std::vector<Column> columns{{"reading", "no.", "", 0}, {"of", "of", ""}};
    add_stick_columns(columns, tail);
    columns.insert(columns.end(), {{"azimuth_deg", "azimuth", "deg", 0},
                                   {"read", "read", "", 2, true},
                                   {"expected", "should", "", 2, true},
                                   {"left", "left", "", 2, true},
                                   {"unit", "unit", ""},
                                   {"chance_wrong_percent", "wrong", "%", 0},
                                   {"looks_like", "looks like", ""}});
    Table out{"readings", "Readings, as the most probable explanation has them", std::move(columns), {}, {}};
    for (std::size_t i = 0; i < d.checked.size(); ++i) {
        const CheckedReading& checked = d.checked[i];
        const bool pitch = i < readings.pitch.size();
        const std::size_t height = i - readings.pitch.size();
        const auto of = [&](const auto& r, std::string words, Cell azimuth) {
            std::vector<Cell> row{static_cast<double>((pitch ? i : height) + 1), std::move(words)};
            add_sticks(row, r.sticks, tail);
            row.insert(row.end(), {std::move(azimuth), checked.read, checked.expected, checked.read - checked.expected,
                                   std::string(pitch ? "deg" : "mm"), 100 * checked.chance_wrong, looks_like(checked)});
            out.rows.push_back(std::move(row));
        };
        if (pitch)
            of(readings.pitch[i], fmt::format("blade {}", readings.pitch[i].blade + 1), readings.pitch[i].azimuth_deg);
        else
            of(readings.ring_height[height], place_words(readings.ring_height[height]), {});
        out.parts.push_back(pitch ? fmt::format("grip[{}]", readings.pitch[i].blade + 1) : "swashplate");
    }
    return out;
}

Table stand(const Diagnosis& d) {
    Table out{"stand",
              "What all pitch readings share (it reads high: +; the shaft's top to the nose, to the right: +)",
              {{"what", "what", ""},
               {"value_deg", "by", "deg", 2, true},
               {"plus_minus_95_deg", "± 95 %", "deg", 2},
               {"sure", "sure", ""}},
              {},
              {}};
    const auto add = [&](const char* what, const Estimate& e) {
        if (e.deviation > 0)
            out.rows.push_back(
                {std::string(what), e.value, for_95_percent * e.deviation, std::string(e.told() ? "yes" : "no")});
    };
    const Stand& found = d.best().stand;
    add("the gauge's zero", found.zero_deg);
    add("the shaft leans forward", found.lean_forward_deg);
    add("the shaft leans to the right", found.lean_right_deg);
    return out;
}

Table not_shown(const Diagnosis& d) {
    Table out{"not_shown",
              "These readings could not have shown, at its usual size",
              {{"suspect", "suspect", ""}, {"shown_by", "would be shown by", ""}},
              {},
              {}};
    for (const int f : d.unseen) {
        const auto shows = std::ranges::find_if(
            d.next_readings, [&](const Advice& a) { return std::ranges::find(a.shows, f) != a.shows.end(); });
        out.rows.push_back({suspect_words(d, f), shows == d.next_readings.end()
                                                     ? Cell()
                                                     : Cell(fmt::format("row {} of what to read next",
                                                                        shows - d.next_readings.begin() + 1))});
        out.parts.push_back(part_of(d, f));
    }
    return out;
}

}  // namespace

std::string suspect_words(const Diagnosis& d, int suspect) {
    if (suspect != the_stand) return d.suspects[static_cast<std::size_t>(suspect)].words;
    return d.gauge.zeroed_on == ZeroedOn::level ? "the gauge's zero and the shaft's lean" : "the gauge's zero";
}

std::string cure_words(const Diagnosis& d, const StandIn& stand_in) {
    const bool on_shaft = d.gauge.zeroed_on.value_or(ZeroedOn::shaft) == ZeroedOn::shaft;
    if (stand_in.told_by_shaft) return "zeroing the gauge on the shaft";
    if (!stand_in.told_by_known_zero) return {};
    return on_shaft ? "checking the gauge's zero" : "zeroing the gauge on the shaft and checking its zero";
}

const char* settles_words(double gain) {
    return gain >= a_lot ? "a lot" : gain >= some ? "some" : "little";
}

std::vector<Table> tables_of(const Diagnosis& d, const Readings& readings) {
    return {explanations(d), corrections(d), not_told_apart(d),  next(d), readings_table(d, readings),
            stand(d),        not_shown(d),   never_told_apart(d)};
}

}  // namespace swashwright::studies
