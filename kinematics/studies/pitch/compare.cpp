#include "kinematics/studies/pitch/compare.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "kinematics/head/head.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/cell.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/pitch/turn_curve.h"

namespace swashwright::studies {

namespace {

using head::Description;
using head::Sticks;

std::map<std::string, double> values(const Description& d) {
    std::map<std::string, double> out;
    for (const head::Number& p : head::numbers(d)) out[p.path] = head::value(d, p);
    return out;
}

std::vector<NumberChange> changes(const Description& before, const Description& after) {
    const auto old = values(before), now = values(after);
    const auto find = [](const std::map<std::string, double>& in, const std::string& path) -> std::optional<double> {
        const auto found = in.find(path);
        return found == in.end() ? std::nullopt : std::optional(found->second);
    };
    std::vector<NumberChange> out;
    for (const head::Number& p : head::numbers(after)) {
        const auto was = find(old, p.path);
        const double is = now.at(p.path);
        if (!was || std::abs(is - *was) > same_within) out.push_back({p, was, is});
    }
    for (const head::Number& p : head::numbers(before))
        if (!find(now, p.path)) out.push_back({p, old.at(p.path), std::nullopt});
    return out;
}

/// Where one head stands at a stick position; a sentence if it does not close.
struct Stand {
    std::vector<double> mean_deg;
    double height_mm = 0, tilt_deg = 0;
    std::string why_not;
};

Stand stand(const head::Result<head::Head>& head, const Sticks& sticks) {
    if (!head) return {{}, 0, 0, head.error().message};
    const auto curve = turn_curve(*head, sticks);
    const auto pose = head->pose(sticks, 0);
    if (!curve) return {{}, 0, 0, curve.error().message};
    if (!pose) return {{}, 0, 0, pose.error().message};
    Stand out{{}, pose->height_mm, pose->tilt_deg, {}};
    for (const BladeTurn& blade : curve->blades) out.mean_deg.push_back(blade.mean_deg);
    return out;
}

std::string place(head::Kind kind, const Sticks& s) {
    if (kind == head::Kind::tail) return signed_figure(s.rudder, 2);
    return fmt::format("{} {} {}", signed_figure(s.collective, 2), signed_figure(s.aileron, 2),
                       signed_figure(s.elevator, 2));
}

Table number_table(const Comparison& comparison, const std::string& before, const std::string& after) {
    Table table{"numbers",
                "Numbers that differ, mm or deg",
                {{"number", "number", ""},
                 {"unit", "unit", ""},
                 {"before", before, "", 3},
                 {"after", after, "", 3},
                 {"change", "change", "", 3, true}},
                {},
                {}};
    for (const NumberChange& c : comparison.numbers) {
        table.rows.push_back({c.parameter.label,
                              std::string(c.parameter.unit == head::Unit::deg  ? "deg"
                                          : c.parameter.unit == head::Unit::mm ? "mm"
                                                                               : ""),
                              cell(c.before), cell(c.after),
                              c.before && c.after ? Cell(*c.after - *c.before) : Cell()});
        table.parts.push_back(c.parameter.path);
    }
    return table;
}

Table stick_table(const Comparison& comparison, const std::string& before, const std::string& after) {
    const bool tail = comparison.kind == head::Kind::tail;
    Table table{
        "sticks",
        tail ? "Mean pitch over a turn, and the pitch slider; sticks: rudder"
             : "Mean pitch over a turn, and the ring with blade 1 over the tail; sticks: collective, aileron, elevator",
        {{"sticks", "sticks", ""},
         {"what", "what", ""},
         {"unit", "unit", ""},
         {"before", before, "", 3, true},
         {"after", after, "", 3, true},
         {"change", "change", "", 3, true}},
        {},
        {}};
    for (const StickChange& s : comparison.sticks) {
        const auto row = [&](const std::string& what, const char* unit, double was, double is,
                             const std::string& part) {
            table.rows.push_back({place(comparison.kind, s.sticks), what, std::string(unit), was, is, is - was});
            table.parts.push_back(part);
        };
        if (!s.why_not.empty()) {
            table.rows.push_back({place(comparison.kind, s.sticks), "out of reach", Cell(), Cell(), Cell(), Cell()});
            table.parts.emplace_back();
            continue;
        }
        for (std::size_t k = 0; k < std::min(s.before_deg.size(), s.after_deg.size()); ++k)
            row(fmt::format("blade {}", k + 1), "deg", s.before_deg[k], s.after_deg[k],
                fmt::format("blade[{}]", k + 1));
        row(tail ? "pitch slider" : "ring height", "mm", s.before_height_mm, s.after_height_mm, "swashplate");
        if (!tail) row("ring tilt", "deg", s.before_tilt_deg, s.after_tilt_deg, "swashplate");
    }
    return table;
}

}  // namespace

Comparison compare(const Description& before, const Description& after, const Sticks& asked) {
    Comparison out{changes(before, after),
                   {},
                   after.kind,
                   head::envelope_words(before.mixing),
                   head::envelope_words(after.mixing),
                   head::same_envelope(before.mixing, after.mixing)};
    const auto old = head::Head::build(before), now = head::Head::build(after);
    std::vector<Sticks> places{asked, {}, {.collective = -1}, {.collective = 1}};
    if (after.kind == head::Kind::tail) places = {asked, {}, {.rudder = -1}, {.rudder = 1}};
    if (asked == Sticks{}) places.erase(places.begin());
    for (const Sticks& sticks : places) {
        const Stand was = stand(old, sticks), is = stand(now, sticks);
        out.sticks.push_back({sticks, was.mean_deg, is.mean_deg, was.height_mm, is.height_mm, was.tilt_deg, is.tilt_deg,
                              was.why_not.empty() ? is.why_not : was.why_not});
    }
    return out;
}

Answer answer(const Comparison& comparison, const std::string& before_words, const std::string& after_words) {
    Answer out;
    out.study = "compare";
    const std::string envelope =
        comparison.same_let_through
            ? ""
            : fmt::format(" The transmitter lets through {} ({}), {} ({}).", comparison.let_through_before,
                          before_words, comparison.let_through_after, after_words);
    if (!comparison.same_let_through) out.tone = Tone::notice;
    if (comparison.numbers.empty()) {
        out.text = "The two heads are the same, number for number." + envelope;
        out.tables = {number_table({}, before_words, after_words), stick_table({}, before_words, after_words)};
        return out;
    }
    const std::size_t count = comparison.numbers.size();
    double most = 0;
    std::size_t blade = 0;
    const StickChange* where = nullptr;
    const std::string* why_not = nullptr;
    for (const StickChange& s : comparison.sticks) {
        if (!s.why_not.empty() && !why_not) why_not = &s.why_not;
        for (std::size_t k = 0; k < std::min(s.before_deg.size(), s.after_deg.size()) && s.why_not.empty(); ++k)
            if (const double change = s.after_deg[k] - s.before_deg[k]; !where || std::abs(change) > std::abs(most)) {
                most = change;
                blade = k;
                where = &s;
            }
    }
    out.tone = Tone::notice;
    out.text = count == 1 ? fmt::format("One number differs: {}.", comparison.numbers[0].parameter.label)
                          : fmt::format("{} numbers differ.", count);
    if (where)
        out.text += fmt::format(" Largest change of mean pitch: blade {}, {} deg, at sticks {}.", blade + 1,
                                signed_figure(most, 2), place(comparison.kind, where->sticks));
    out.text += envelope;
    out.tables = {number_table(comparison, before_words, after_words),
                  stick_table(comparison, before_words, after_words)};
    if (why_not) out.notes.push_back("Not compared everywhere: " + *why_not);
    out.notes.push_back("Only numbers that move something are compared: not names, ball sizes or limits.");
    return out;
}

}  // namespace swashwright::studies
