#include "kinematics/studies/pitch/compare.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "kinematics/head/head.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/cell.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/stick_words.h"
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

bool same_way(const Vec3& a, const Vec3& b) {
    return (a.normalized() - b.normalized()).norm() < same_within;
}

/// What moves something and is not in the registry of numbers, of one servo.
void other_changes_of(const head::Servo& before, const head::Servo& after, std::vector<std::string>& out) {
    const std::string servo = head::servo_words(after);
    const auto differs = [&](bool differ, const char* what) {
        if (differ) out.push_back(fmt::format("{}, {}", servo, what));
    };
    differs(!same_way(before.axis, after.axis), "direction of the output shaft");
    differs(!same_way(before.horn_zero, after.horn_zero), "where the horn points at angle 0");
    differs(before.raise != after.raise, "which way a growing angle moves the ball");
    differs(before.collective_weight != after.collective_weight, "collective weight");
    differs(before.aileron_weight != after.aileron_weight, "aileron weight");
    differs(before.elevator_weight != after.elevator_weight, "elevator weight");
}

std::vector<std::string> other_changes(const Description& before, const Description& after) {
    std::vector<std::string> out;
    if (before.rotor.direction != after.rotor.direction) out.emplace_back("the way the rotor turns");
    for (std::size_t j = 0; j < std::min(before.servos.size(), after.servos.size()); ++j)
        other_changes_of(before.servos[j], after.servos[j], out);
    return out;
}

/// Where one head stands at a stick position; a sentence if it does not close.
struct Stand {
    std::vector<BladeTurn> blades;
    double height_mm = 0, tilt_deg = 0;
    std::string why_not;

    std::vector<double> mean_deg() const {
        std::vector<double> out;
        for (const BladeTurn& blade : blades) out.push_back(blade.mean_deg);
        return out;
    }
};

Stand stand(const head::Result<head::Head>& head, const Sticks& sticks) {
    if (!head) return {{}, 0, 0, head.error().message};
    auto curve = turn_curve(*head, sticks);
    const auto pose = head->pose(sticks, 0);
    if (!curve) return {{}, 0, 0, curve.error().message};
    if (!pose) return {{}, 0, 0, pose.error().message};
    return {std::move(curve->blades), pose->height_mm, pose->tilt_deg, {}};
}

double most_apart_deg(const Stand& was, const Stand& is) {
    double most = 0;
    for (std::size_t k = 0; k < std::min(was.blades.size(), is.blades.size()); ++k)
        for (std::size_t i = 0; i < was.blades[k].pitch_deg.size(); ++i)
            most = std::max(most, std::abs(is.blades[k].pitch_deg[i] - was.blades[k].pitch_deg[i]));
    return most;
}

std::vector<Sticks> places_for(head::Kind kind, const Sticks& asked) {
    std::vector<Sticks> out{{}, {.collective = -1}, {.collective = 1}, {.aileron = 1}, {.elevator = 1}};
    if (kind == head::Kind::tail) out = {{}, {.rudder = -1}, {.rudder = 1}};
    if (asked != Sticks{}) out.insert(out.begin(), asked);
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

/// "a; b; and 3 more".
std::string list_words(const std::vector<std::string>& list) {
    constexpr std::size_t most = 3;
    if (list.size() == 1) return list[0];
    const std::size_t told = list.size() > most ? most - 1 : list.size() - 1;
    std::string out;
    for (std::size_t i = 0; i < told; ++i) out += (i > 0 ? "; " : "") + list[i];
    return out + (list.size() > 2 ? "; and " : " and ") +
           (list.size() > most ? fmt::format("{} more", list.size() - told) : list.back());
}

/// Smaller changes are not seen in figures of two decimals.
constexpr double seen_deg = 0.005;

bool moved(const Comparison& c) {
    return std::ranges::any_of(c.sticks, [](const StickChange& s) { return s.most_deg >= seen_deg; });
}

std::string what_differs(const Comparison& c) {
    const std::size_t count = c.numbers.size(), others = c.others.size();
    if (count == 0 && others == 0)
        return moved(c) ? "No number differs, but how the parts are joined does."
                        : "The two heads are the same, number for number.";
    if (count == 0)
        return fmt::format("{} {}: {}.", others == 1 ? "One" : fmt::format("{}", others),
                           others == 1 ? "thing differs" : "things differ", list_words(c.others));
    std::string out = count == 1 ? fmt::format("One number differs: {}.", c.numbers[0].parameter.label)
                                 : fmt::format("{} numbers differ.", count);
    if (others > 0) out += fmt::format(" Also: {}.", list_words(c.others));
    return out;
}

/// What it does to the pitch, where it does most; empty where it does nothing.
std::string largest_change(const Comparison& c) {
    double most = 0;
    std::size_t blade = 0;
    const StickChange *where = nullptr, *turn = nullptr;
    for (const StickChange& s : c.sticks) {
        if (!s.why_not.empty()) continue;
        for (std::size_t k = 0; k < std::min(s.before_deg.size(), s.after_deg.size()); ++k)
            if (const double change = s.after_deg[k] - s.before_deg[k]; !where || std::abs(change) > std::abs(most)) {
                most = change;
                blade = k;
                where = &s;
            }
        if (!turn || s.most_deg > turn->most_deg) turn = &s;
    }
    if (!where) return "";
    const auto at = [&](const StickChange& s) { return short_stick_words(c.kind, s.sticks); };
    const bool mean = std::abs(most) >= seen_deg;
    std::string out;
    if (mean || !c.numbers.empty())
        out = fmt::format(" Largest change of mean pitch: blade {}, {} deg, at {}.", blade + 1, signed_figure(most, 2),
                          at(*where));
    if (turn->most_deg >= seen_deg && turn->most_deg > 2 * std::abs(most))  // cyclic cancels in a mean
        out +=
            fmt::format(" Within a turn pitch changes by up to {} deg, at {}.", figure(turn->most_deg, 2), at(*turn));
    return out;
}

}  // namespace

std::vector<NumberChange> number_changes(const Description& before, const Description& after) {
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

Comparison compare(const Description& before, const Description& after, const Sticks& asked) {
    Comparison out{number_changes(before, after),
                   other_changes(before, after),
                   {},
                   after.kind,
                   head::envelope_words(before.mixing),
                   head::envelope_words(after.mixing),
                   head::same_envelope(before.mixing, after.mixing)};
    const auto old = head::Head::build(before), now = head::Head::build(after);
    for (const Sticks& sticks : places_for(after.kind, asked)) {
        const Stand was = stand(old, sticks), is = stand(now, sticks);
        out.sticks.push_back({sticks, was.mean_deg(), is.mean_deg(), was.height_mm, is.height_mm, was.tilt_deg,
                              is.tilt_deg, most_apart_deg(was, is), was.why_not.empty() ? is.why_not : was.why_not});
    }
    return out;
}

Answer answer(const Comparison& comparison, const std::string& before_words, const std::string& after_words) {
    Answer out;
    out.study = "compare";
    out.text = what_differs(comparison) + largest_change(comparison);
    if (!comparison.same_let_through)
        out.text += fmt::format(" The transmitter lets through {} ({}), {} ({}).", comparison.let_through_before,
                                before_words, comparison.let_through_after, after_words);
    if (moved(comparison) || !comparison.numbers.empty() || !comparison.others.empty() || !comparison.same_let_through)
        out.tone = Tone::notice;
    out.tables = {number_table(comparison, before_words, after_words),
                  stick_table(comparison, before_words, after_words)};
    const auto open = std::ranges::find_if(comparison.sticks, [](const StickChange& s) { return !s.why_not.empty(); });
    if (open != comparison.sticks.end()) out.notes.push_back("Not compared everywhere: " + open->why_not);
    out.notes.push_back("Only what moves something is compared: not names, ball sizes or limits.");
    return out;
}

}  // namespace swashwright::studies
