#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/diagnosis/diagnose.h"

namespace swashwright::studies {
namespace {

constexpr double for_95_percent = 1.959964;  // standard deviations either side, normal distribution
constexpr std::size_t least = 3;             // explanations in the table whatever their probability

std::string said(const Fault& fault, double size, double deviation) {
    const std::string between = fmt::format("+/- {:.2f} {}, 95 %", for_95_percent * deviation, fault.unit);
    switch (fault.kind) {
        case FaultKind::lower_link:
        case FaultKind::upper_link:
        case FaultKind::other_link:
            return fmt::format("{} is {:.2f} mm too {} ({})", fault.words, std::abs(size), size > 0 ? "long" : "short",
                               between);
        case FaultKind::horn_tooth:
            return fault.words + ", seen on the horn's face";
        default:
            return fault.sized()
                       ? fmt::format("{}, {} {} ({})", fault.words, signed_figure(size, 2), fault.unit, between)
                       : fault.words;
    }
}

std::string words(const Diagnosis& d, int suspect) {
    return suspect == the_stand ? "the gauge's zero, or how the model stands"
                                : d.suspects[static_cast<std::size_t>(suspect)].words;
}

std::string percent(double probability) {
    return probability > 0.995 ? "over 99 %" : fmt::format("{:.0f} %", 100 * probability);
}

std::string sentence_of(const Diagnosis& d) {
    const Hypothesis& best = d.best();
    const auto& suspect = [&](int f) -> const Fault& { return d.suspects[static_cast<std::size_t>(f)]; };
    if (best.fit.faults.empty())
        return fmt::format("Nothing wrong shows in these {} readings (probability {}).", d.readings,
                           percent(best.probability));
    std::string what;
    for (std::size_t i = 0; i < best.fit.faults.size(); ++i)
        what += (i ? ", and " : "") +
                said(suspect(best.fit.faults[i]), best.fit.size[static_cast<Eigen::Index>(i)], best.fit.deviation(i));
    std::string out = fmt::format("Most probable: {}; probability {}.", what, percent(best.probability));
    if (d.stand_ins.empty()) return out;
    out += " These readings cannot tell it from: ";
    for (std::size_t i = 0; i < d.stand_ins.size() && i < 4; ++i)
        out += (i ? ", " : "") + words(d, d.stand_ins[i].fault);
    return out + (d.stand_ins.size() > 4 ? fmt::format(" and {} more.", d.stand_ins.size() - 4) : ".");
}

Table explanations(const Diagnosis& d) {
    Table out{"explanations",
              "Explanations, most probable first; a pair has two rows (plus: longer, or more)",
              {{"rank", "rank", "", 0},
               {"suspect", "suspect", ""},
               {"size", "size", "", 3, true},
               {"plus_minus_95", "+/- 95 %", "", 3},
               {"unit", "unit", ""},
               {"chi_square", "chi-sq", "", 1},
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
              "What to do about each (longer +; turns of the turnbuckle, or of one end of a plain rod)",
              {{"rank", "rank", "", 0},
               {"suspect", "suspect", ""},
               {"change_mm", "change", "mm", 3, true},
               {"turns", "change", "turns", 2, true},
               {"set", "set", ""}},
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
    Table out{
        "not_told_apart",
        fmt::format("These readings cannot tell apart: the other would leave a noise-free chi-square under {:.0f}",
                    told_apart),
        {{"suspect", "suspect", ""}, {"instead_of", "in place of", ""}, {"chi_square", "chi-sq", "", 2}},
        {},
        {}};
    for (const StandIn& s : d.stand_ins) {
        out.rows.push_back({words(d, s.fault), words(d, s.instead_of), s.chi_square});
        out.parts.push_back(s.fault == the_stand ? "" : d.suspects[static_cast<std::size_t>(s.fault)].part);
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

Table next(const Diagnosis& d) {
    const bool tail = d.kind == head::Kind::tail;
    std::vector<Column> columns{{"blade", "blade", "", 0}};
    if (tail)
        columns.push_back({"rudder", "rudder", "", 0, true});
    else
        columns.insert(columns.end(), {{"collective", "coll.", "", 0, true},
                                       {"aileron", "aileron", "", 0, true},
                                       {"elevator", "elev.", "", 0, true}});
    columns.insert(columns.end(), {{"azimuth_deg", "azimuth", "deg", 0},
                                   {"expected_deg", "if rank 1", "deg", 2, true},
                                   {"rival_deg", "if rank 2", "deg", 2, true},
                                   {"gain_nats", "gain", "nats", 2}});
    Table out{"next_readings",
              tail ? "Read next, best first (azimuth of blade 1, 0 where it points away from the nose; rudder: right +)"
                   : "Read next, best first (azimuth of blade 1, 0 over the tail; sticks: up, right, forward +)",
              std::move(columns),
              {},
              {}};
    for (const Advice& a : d.next_readings) {
        const PitchReading& r = a.where;
        std::vector<Cell> row{static_cast<double>(r.blade + 1)};
        if (tail)
            row.emplace_back(r.sticks.rudder);
        else
            row.insert(row.end(), {r.sticks.collective, r.sticks.aileron, r.sticks.elevator});
        row.insert(row.end(), {r.azimuth_deg, r.reading_deg, a.rival_deg ? Cell(*a.rival_deg) : Cell(), a.gain});
        out.rows.push_back(std::move(row));
        out.parts.push_back(fmt::format("grip[{}]", r.blade + 1));
    }
    return out;
}

std::vector<std::string> notes(const Diagnosis& d) {
    std::vector<std::string> out;
    const double spare = static_cast<double>(d.readings) - static_cast<double>(d.best().fit.faults.size());
    if (d.best().fit.chi_square > spare + 3 * std::sqrt(2 * std::max(1.0, spare)))
        out.push_back(
            "Even the best explanation leaves more than the readings' uncertainty: a reading may be mistyped, the "
            "scene "
            "may not be this head, or more than two things are wrong.");
    if (!d.unseen.empty()) {
        std::string names;
        for (const int f : d.unseen)
            names += (names.empty() ? "" : ", ") + d.suspects[static_cast<std::size_t>(f)].words;
        out.push_back("These readings do not show: " + names + ".");
    }
    if (d.observability.inverse_condition > 0)
        out.push_back(
            fmt::format("The suspects in question together: the least told combination moves the readings {:.1f} "
                        "uncertainties for its "
                        "usual size; condition number {:.0f} (under 100 is taken for reliable: Schroer, in Nahvi and "
                        "Hollerbach 1996).",
                        d.observability.smallest, 1 / d.observability.inverse_condition));
    else if (!d.in_question.empty())
        out.push_back("The suspects in question together are more, or more alike, than these readings can fix.");
    out.push_back(fmt::format(
        "Weighed: nothing wrong, {} single faults, {} pairs. Before any reading nothing wrong counts {:.2f}, all "
        "single "
        "faults together {:.2f}, all pairs {:.2f}; a size is normal about 0 (links and balls 1 mm, trim 4 deg, guide "
        "and "
        "driver collar 10 deg, blade and arm angles 2.5 deg). These are guesses; common practice, no source.",
        d.suspects.size(), d.pairs_weighed, d.priors.nothing, d.priors.single, d.priors.pair));
    out.push_back(
        "chi-sq: what stays unexplained, in squared uncertainties; about one for each reading to spare is usual. The "
        "next "
        "reading is the one whose outcome is least certain (D-optimal design: Fedorov; Silvey).");
    return out;
}

}  // namespace

Answer answer(const Diagnosis& d) {
    Answer out{"diagnose", sentence_of(d), d.best().fit.faults.empty() ? Tone::calm : Tone::notice, {}, notes(d)};
    out.tables = {explanations(d), corrections(d), not_told_apart(d), next(d), never_told_apart(d)};
    return out;
}

}  // namespace swashwright::studies
