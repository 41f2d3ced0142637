#include "viewer/panels/questions/map_cell.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/azimuth.h"
#include "kinematics/studies/answer/figures.h"
#include "viewer/panels/base/lengths.h"

namespace swashwright::panels {

namespace {

using studies::Check;
using studies::CheckState;
using studies::Envelope;
using studies::Extreme;
using studies::signed_figure;

const Extreme& worst_in(const Envelope& envelope, const MapCell& cell, std::size_t check) {
    return envelope.cells[check][cell.collective * envelope.cyclic.size() + cell.cyclic];
}

std::string value_words(const Check& check, double value, bool inches) {
    if (check.unit == "mm") return length_text(value, inches);
    const std::string unit = check.unit == "mm/mm" ? "" : " " + check.unit;
    return studies::figure(value, 2) + unit;
}

/// "38.20 deg, at most 40.00 deg: close".
std::string margin_words(const Check& check, const Extreme& there, bool inches) {
    const bool upper = check.high - there.value < there.value - check.low;
    const CheckState state = state_of(check, there.margin);
    return fmt::format("{}, at {} {}: {}", value_words(check, there.value, inches), upper ? "most" : "least",
                       value_words(check, upper ? check.high : check.low, inches),
                       state == CheckState::fail    ? "fails"
                       : state == CheckState::close ? "close"
                                                    : "free");
}

std::string place_words(const Envelope& envelope, const studies::Place& place) {
    const head::Sticks& sticks = place.sticks;
    std::string text = fmt::format("collective {}, aileron {}, elevator {}, rotor at {:.0f} deg",
                                   signed_figure(sticks.collective, 2), signed_figure(sticks.aileron, 2),
                                   signed_figure(sticks.elevator, 2), head::within_turn_deg(place.azimuth_deg));
    for (std::size_t i = 0; i < place.hand_deg.size(); ++i)
        text += fmt::format(", {} at {} deg", envelope.hands[i].words, signed_figure(place.hand_deg[i], 1));
    return text;
}

/// Levers moved by hand, by number from 0, and their angle at a place, deg.
std::vector<std::pair<int, double>> hands_at(const Envelope& envelope, const studies::Place& place) {
    std::vector<std::pair<int, double>> out;
    for (std::size_t i = 0; i < place.hand_deg.size(); ++i)
        if (const auto lever = head::part_of(envelope.hands[i].path)) out.emplace_back(lever->index, place.hand_deg[i]);
    return out;
}

/// Of a link, 0 or 1: the end that the check is about.
std::optional<int> end_of(const Check& check) {
    return check.key.ends_with(".lower_end")   ? std::optional(0)
           : check.key.ends_with(".upper_end") ? std::optional(1)
                                               : std::nullopt;
}

std::string capital(std::string words) {
    if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - 'a' + 'A');
    return words;
}

}  // namespace

MapCell cell_at(const Envelope& envelope, double collective, double cyclic) {
    const auto nearest_of = [](double share, std::size_t count) {
        return static_cast<std::size_t>(std::lround(std::clamp(share, 0.0, 1.0) * static_cast<double>(count - 1)));
    };
    return {nearest_of((collective + 1) / 2, envelope.collective.size()), nearest_of(cyclic, envelope.cyclic.size())};
}

std::string cell_words(const Envelope& envelope, const MapCell& cell, bool inches) {
    const std::string where =
        fmt::format("collective {}, cyclic {:.2f}", signed_figure(envelope.collective[cell.collective], 2),
                    envelope.cyclic[cell.cyclic]);
    if (!envelope.inside(cell.collective, cell.cyclic))
        return capital(where) + ": the transmitter does not let the sticks go there.";
    const studies::Nearest worst = nearest(envelope, cell.collective, cell.cyclic);
    if (!worst.check)
        return capital(where) +
               (worst.share < 0 ? ": somewhere round here the links do not reach." : ": there is nothing to check.");
    const Check& check = envelope.checks[*worst.check];
    const Extreme& there = worst_in(envelope, cell, *worst.check);
    return fmt::format("At {}, nearest to its limit: {}, {}. Worst with {}.", where, check.words,
                       margin_words(check, there, inches), place_words(envelope, there.place));
}

bool can_stand(const Envelope& envelope, const MapCell& cell) {
    return envelope.inside(cell.collective, cell.cyclic) &&
           nearest(envelope, cell.collective, cell.cyclic).check.has_value();
}

void show_cell(Selection& selection, const Envelope& envelope, const MapCell& cell) {
    if (!can_stand(envelope, cell)) return;
    const Check& check = envelope.checks[*nearest(envelope, cell.collective, cell.cyclic).check];
    if (check.parts.empty()) return;
    selection.selected = draw::part_of(check.parts.front());
    selection.pair = check.parts.size() > 1 ? check.parts[0] + "|" + check.parts[1] : std::string();
    if (!selection.selected) return;
    selection.look_at = LookAt{*selection.selected, end_of(check)};
}

void complete_row(Selection& selection, const Envelope& envelope) {
    if (!selection.place) return;
    const std::string& label = selection.place->row;
    for (std::size_t k = 0; k < envelope.checks.size(); ++k) {
        const std::string& own = envelope.checks[k].label;
        if (label != own && label != own + ", at least") continue;
        if (selection.look_at) selection.look_at->end = end_of(envelope.checks[k]);
        selection.place->hands = hands_at(envelope, envelope.worst[k].place);
        return;
    }
}

void stand_in_cell(Bench& bench, const Envelope& envelope, const MapCell& cell) {
    if (!can_stand(envelope, cell)) return;
    const studies::Place& place =
        worst_in(envelope, cell, *nearest(envelope, cell.collective, cell.cyclic).check).place;
    go_to(bench, place.sticks, place.azimuth_deg);
    for (const auto& [lever, angle_deg] : hands_at(envelope, place)) bench.controls.hands[lever] = angle_deg;
}

}  // namespace swashwright::panels
