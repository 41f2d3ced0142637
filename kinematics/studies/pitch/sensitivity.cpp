#include "kinematics/studies/pitch/sensitivity.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/part_path.h"
#include "kinematics/studies/answer/stick_words.h"
#include "kinematics/studies/pitch/harmonics.h"
#include "kinematics/studies/pitch/turn_slopes.h"

namespace swashwright::studies {

namespace {

/// A blade's own azimuth is ahead of blade 1's.
BladeEffect effect_on(std::size_t blade, const TurnSlopes& turn, std::size_t number) {
    std::vector<double> samples;
    for (const Eigen::MatrixXd& at : turn.slopes)
        samples.push_back(at(static_cast<Eigen::Index>(blade), static_cast<Eigen::Index>(number)));
    const Harmonics over =
        harmonics(samples, blade_azimuth_deg(0, blade, static_cast<std::size_t>(turn.slopes[0].rows())));
    const double amplitude = over.first().amplitude();
    return {over.mean, amplitude, amplitude > 1e-9 ? over.first().azimuth_of_most_deg() : 0.0};
}

}  // namespace

double Effect::largest_mean() const {
    double most = 0;
    for (const BladeEffect& blade : blades)
        if (std::abs(blade.mean_deg) > std::abs(most)) most = blade.mean_deg;
    return most;
}
double Effect::largest_cyclic() const {
    double most = 0;
    for (const BladeEffect& blade : blades) most = std::max(most, blade.cyclic_deg);
    return most;
}
double Effect::size_deg() const {
    double most = 0;
    for (const BladeEffect& blade : blades) most = std::max(most, std::abs(blade.mean_deg) + blade.cyclic_deg);
    return most;
}

std::vector<head::Number> measured_numbers(const head::Description& description) {
    auto all = head::numbers(description);
    std::erase_if(all, [](const head::Number& p) { return is_error(p.kind) || p.kind == head::NumberKind::trim; });
    return all;
}

head::Result<Sensitivity> sensitivity(const head::Head& head, const head::Sticks& sticks) {
    const head::Description& d = head.description();
    const auto numbers = measured_numbers(d);
    const auto turn = turn_slopes(head, sticks, numbers, turn_azimuths(turn_samples));
    if (!turn) return tl::unexpected(turn.error());
    Sensitivity out{sticks, {}, d.kind};
    for (std::size_t p = 0; p < numbers.size(); ++p) {
        Effect effect{numbers[p], head::value(d, numbers[p]), {}, 0, {}, {}};
        if (const head::Link* link = link_of(d, numbers[p])) {
            effect.mm_per_turn = 2 * half_turn_mm(*link);
            if (takes_half_turns(*link)) effect.mm_per_half_turn = half_turn_mm(*link);
        }
        for (std::size_t k = 0; k < head::count_of(d, head::Role::blade); ++k)
            effect.blades.push_back(effect_on(k, *turn, p));
        const auto [least, most] = std::ranges::minmax(effect.blades, {}, &BladeEffect::mean_deg);
        effect.split_deg = most.mean_deg - least.mean_deg;
        out.effects.push_back(std::move(effect));
    }
    // A degree stands against a tenth of a millimetre, as they are shown. Rounded, so that equals keep the scene's
    // order.
    const auto shown = [](const Effect& e) {
        return std::round(1e9 * e.size_deg() * (e.number.unit == head::Unit::mm ? 0.1 : 1.0));
    };
    std::ranges::stable_sort(out.effects, [&](const Effect& a, const Effect& b) { return shown(a) > shown(b); });
    return out;
}

namespace {

Cell for_half_turn(const Effect& e, double slope) {
    if (!e.mm_per_half_turn) return {};
    return slope * *e.mm_per_half_turn;
}

std::vector<Cell> effect_row(const Effect& e, double unit) {
    return {e.number.label,
            e.number.unit == head::Unit::mm ? "0.1 mm" : "deg",
            e.largest_mean() * unit,
            e.largest_cyclic() * unit,
            e.split_deg * unit,
            for_half_turn(e, e.largest_mean()),
            for_half_turn(e, e.largest_cyclic())};
}

/// All columns with this head.
void leave_out(Table& table, std::string_view head) {
    for (std::size_t c = table.columns.size(); c-- > 0;) {
        if (table.columns[c].head != head) continue;
        table.columns.erase(table.columns.begin() + static_cast<std::ptrdiff_t>(c));
        for (auto& row : table.rows) row.erase(row.begin() + static_cast<std::ptrdiff_t>(c));
    }
}

/// The effects, and what each blade has of them in the mean and once a turn; of a tail, where nothing goes once a turn,
/// in the mean alone.
std::vector<Table> effect_tables(const Sensitivity& sensitivity, std::size_t count) {
    Table effects{
        "effects",
        fmt::format("{}, each made larger by what is said under 'per'",
                    count == sensitivity.effects.size() ? fmt::format("All {} numbers, the largest effect first", count)
                                                        : fmt::format("The {} of {} numbers with the largest effect",
                                                                      count, sensitivity.effects.size())),
        {{"number", "number", ""},
         {"per", "per", ""},
         {"mean_deg", "mean", "deg", 3, true},
         {"cyclic_deg", "cyclic", "deg", 3},
         {"split_deg", "split", "deg", 3},
         {"half_turn_mean_deg", "half turn", "deg", 3, true},
         {"half_turn_cyclic_deg", "cyclic", "deg", 3}},
        {},
        {}};
    const std::size_t blades = sensitivity.effects.empty() ? 0 : sensitivity.effects[0].blades.size();
    Table means{"means", "Mean pitch of each blade, for the same change", {{"number", "number", ""}}, {}, {}};
    Table cyclic{"cyclics",
                 "Amplitude of each blade's once-a-turn change, for the same change",
                 {{"number", "number", ""}},
                 {},
                 {}};
    for (std::size_t k = 0; k < blades; ++k) {
        means.columns.push_back({fmt::format("blade_{}_deg", k + 1), fmt::format("blade {}", k + 1), "deg", 3, true});
        cyclic.columns.push_back({fmt::format("blade_{}_deg", k + 1), fmt::format("blade {}", k + 1), "deg", 3});
    }
    for (std::size_t i = 0; i < count; ++i) {
        const Effect& e = sensitivity.effects[i];
        const double unit = e.number.unit == head::Unit::mm ? 0.1 : 1.0;
        effects.rows.push_back(effect_row(e, unit));
        means.rows.push_back({e.number.label});
        cyclic.rows.push_back({e.number.label});
        for (const BladeEffect& blade : e.blades) {
            means.rows.back().push_back(blade.mean_deg * unit);
            cyclic.rows.back().push_back(blade.cyclic_deg * unit);
        }
        for (Table* table : {&effects, &means, &cyclic}) table->parts.push_back(part_path(e.number));
    }
    if (sensitivity.kind == head::Kind::tail) {
        leave_out(effects, "cyclic");
        return {std::move(effects), std::move(means)};
    }
    return {std::move(effects), std::move(means), std::move(cyclic)};
}

}  // namespace

Answer answer(const Sensitivity& sensitivity, std::size_t rows) {
    Answer out;
    const bool tail = sensitivity.kind == head::Kind::tail;
    out.study = "sensitivity";
    const std::size_t count = rows == 0 ? sensitivity.effects.size() : std::min(rows, sensitivity.effects.size());
    const auto link =
        std::ranges::find_if(sensitivity.effects, [](const Effect& e) { return e.mm_per_turn.has_value(); });
    if (link != sensitivity.effects.end()) {
        const double mm = link->mm_per_half_turn.value_or(*link->mm_per_turn);
        out.text = fmt::format(
            "Of the links, {} counts most: {} changes pitch by {:.2f} deg{}.", part_words(link->number),
            link->mm_per_half_turn ? "half a turn" : "a whole turn", std::abs(link->largest_mean() * mm),
            tail ? "" : fmt::format(" in the mean and {:.2f} deg once a turn", link->largest_cyclic() * mm));
    }
    out.tables = effect_tables(sensitivity, count);
    out.notes = {
        fmt::format("Slopes are exact at {}, over one turn of the rotor; pitch is positive leading edge {}.",
                    stick_words(sensitivity.kind, sensitivity.sticks), tail ? "away from the boom" : "up"),
        tail ? "The mean is of the blade that the number moves most; split is the largest less the least mean."
             : "Mean and cyclic are of the blade that the number moves most; cyclic is the amplitude of the "
               "once-a-turn part; split is the largest less the least mean.",
        "What is changed is metal: the mixer keeps the azimuths that it was set up with.",
        "Half a turn: of one end of a plain rod, or of a turnbuckle's body; none where an end presses on from one side "
        "only, which takes whole turns."};
    return out;
}

}  // namespace swashwright::studies
