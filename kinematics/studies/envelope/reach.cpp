#include "kinematics/studies/envelope/reach.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/answer/stick_words.h"
#include "kinematics/studies/envelope/ball_tilt.h"
#include "kinematics/studies/envelope/clearance.h"
#include "kinematics/studies/envelope/cranks.h"
#include "kinematics/studies/envelope/travel.h"

namespace swashwright::studies {

namespace {

const char* kind_word(CheckKind kind) {
    switch (kind) {
        case CheckKind::ball_tilt:
            return "ball link tilt";
        case CheckKind::transmission:
            return "lever angle";
        case CheckKind::dead_point:
            return "dead point";
        case CheckKind::travel:
            return "travel and stops";
        case CheckKind::clearance:
            return "clearance";
    }
    return "";
}

double bound(const Check& check, double value) {
    return check.high - value < value - check.low ? check.high : check.low;
}

std::string at(const Envelope& e, const Place& place) {
    std::string text = fmt::format("{}, rotor at {:.0f} deg", stick_words(e.kind, place.sticks),
                                   head::within_turn_deg(place.azimuth_deg));
    for (std::size_t i = 0; i < e.hands.size(); ++i)
        text += fmt::format(", {} at {} deg", e.hands[i].words, signed_figure(place.hand_deg[i], 1));
    return text;
}

/// What hands may do, after what sticks may.
std::string hands_of(const Envelope& e) {
    std::string text;
    for (const Hand& hand : e.hands)
        text += fmt::format(", {} moved by hand from {:g} to {:g} deg", hand.words, hand.least_deg, hand.most_deg);
    return text;
}

/// What the sticks may do.
std::string sticks_of(const Envelope& e) {
    return (e.kind == head::Kind::tail ? "the rudder from end to end" : head::envelope_words(e.mixing)) + hands_of(e);
}

/// A gap so wide that no more is told of it, and no less.
bool at_least(const Check& check, const Extreme& worst) {
    constexpr double closely = 0.01 * (1 + 1e-9);
    return is_lower_bound(check, worst.value) && worst.within <= closely;
}

std::string about(const Envelope& e, const Check& check, const Extreme& worst) {
    const double value = std::round(100 * worst.value) / 100 + 0.0;  // no "-0.00"
    return fmt::format("{} comes to {}{:.2f} {}{}, where {} is wanted, at {}", check.words,
                       at_least(check, worst) ? "at least " : "", value, check.unit, how_sure(check, worst),
                       bound_words(check, worst.value), at(e, worst.place));
}

/// How far sticks may go that take the linkage over a dead point.
std::string less_travel(const std::vector<DeadPointWay>& ways) {
    std::string text = "The cure is less travel, not another length";
    const DeadPointWay* first = nullptr;
    for (const DeadPointWay& way : ways)
        if (way.stick && (!first || *way.stick < *first->stick)) first = &way;
    if (first && *first->stick < 1)
        text += fmt::format(": with {} they reach up to {:.2f} of full stick", first->words, *first->stick);
    return text + ". ";
}

std::string sentence(const Reach& reach, const std::vector<std::size_t>& order) {
    const Envelope& e = reach.envelope;
    const auto fails = std::ranges::count_if(order, [&](std::size_t k) { return e.worst[k].margin < 0; });
    std::string text;
    if (e.opens)
        text = fmt::format("With {} the links no longer reach{}{}. {}", at(e, *e.opens),
                           e.opens_message.empty() ? "" : ": ", e.opens_message,
                           e.opens->sticks == head::Sticks{} ? std::string() : less_travel(reach.dead_points));
    if (order.empty()) return text + "Nothing could be checked.";
    const std::string worst = about(e, e.checks[order.front()], e.worst[order.front()]);
    const std::string sticks = sticks_of(e);
    const auto doubtful = std::ranges::count_if(order, [&](std::size_t k) { return unsure(reach, k); });
    if (fails == 0 && doubtful > 0)
        return text + fmt::format(
                          "None of {} checks is seen to fail{}, with {}, but {} {} known too loosely to "
                          "rule it out. The first: {}.",
                          order.size(), e.opens ? " where the links reach" : "", sticks, doubtful,
                          doubtful == 1 ? "is" : "are", worst);
    if (fails == 0)
        return text + fmt::format("All {} checks are kept{}, with {}. Nearest to its bound: {}.", order.size(),
                                  e.opens ? " where they reach" : "", sticks, worst);
    return text + fmt::format("{} of {} checks {}{}, with {}. Worst: {}.", fails, order.size(),
                              fails == 1 ? "fails" : "fail",
                              doubtful > 0 ? fmt::format(" and {} may", doubtful) : std::string(), sticks, worst);
}

/// The columns that say where the sticks stand.
std::vector<Column> stick_columns(head::Kind kind) {
    if (kind == head::Kind::tail) return {{"rudder", "rudder", "", 2, true}};
    return {{"collective", "coll.", "", 2, true}, {"aileron", "ail.", "", 2, true}, {"elevator", "elev.", "", 2, true}};
}
std::vector<Cell> stick_cells(head::Kind kind, const head::Sticks& sticks) {
    if (kind == head::Kind::tail) return {sticks.rudder};
    return {sticks.collective, sticks.aileron, sticks.elevator};
}
void append(auto& to, const auto& more) {
    to.insert(to.end(), more.begin(), more.end());
}

Table checks_table(const Reach& reach, const std::vector<std::size_t>& order, std::size_t rows) {
    const Envelope& e = reach.envelope;
    const std::size_t count = rows == 0 ? order.size() : std::min(rows, order.size());
    Table table{"checks",
                count == order.size() ? fmt::format("All {} checks, the nearest to its bound first, and where", count)
                                      : fmt::format("The {} of {} checks that come nearest to their bounds, and where",
                                                    count, order.size()),
                {{"check", "check", ""},
                 {"state", "state", ""},
                 {"value", "comes to", ""},
                 {"within", "sure to", "", 3},
                 {"bound", "bound", ""},
                 {"unit", "unit", ""}},
                {},
                {}};
    append(table.columns, stick_columns(e.kind));
    table.columns.push_back({"azimuth_deg", "rotor", "deg", 0});
    for (std::size_t n = 0; n < count; ++n) {
        const Check& check = e.checks[order[n]];
        const Extreme& w = e.worst[order[n]];
        table.rows.push_back({check.label + (at_least(check, w) ? ", at least" : ""),
                              std::string(unsure(reach, order[n]) ? "may fail" : state_word(check, w.margin)), w.value,
                              std::isfinite(w.within) ? Cell(w.within) : Cell(std::string("?")), bound(check, w.value),
                              check.unit});
        append(table.rows.back(), stick_cells(e.kind, w.place.sticks));
        table.rows.back().emplace_back(head::within_turn_deg(w.place.azimuth_deg));
        table.parts.push_back(check.kind == CheckKind::clearance ? check.parts[0] + "|" + check.parts[1]
                                                                 : check.parts.front());
    }
    return table;
}

/// Where the parts that a hand moves stand at those places.
Table hands_table(const Envelope& e, const std::vector<std::size_t>& order, std::size_t rows) {
    const std::size_t count = rows == 0 ? order.size() : std::min(rows, order.size());
    Table table{"hands", "Where what a hand moves stands there", {{"check", "check", ""}}, {}, {}};
    for (const Hand& hand : e.hands) table.columns.push_back({hand.path + "_deg", hand.words, "deg", 1, true});
    for (std::size_t n = 0; n < count; ++n) {
        table.rows.push_back({e.checks[order[n]].label});
        append(table.rows.back(), e.worst[order[n]].place.hand_deg);
        table.parts.push_back(e.checks[order[n]].parts.front());
    }
    return table;
}

Table kinds_table(const Reach& reach, const std::vector<std::size_t>& order) {
    const Envelope& e = reach.envelope;
    Table table{"kinds",
                "Every kind of check",
                {{"kind", "kind", ""}, {"checks", "checks", "", 0}, {"fail", "fail", "", 0}, {"close", "close", "", 0}},
                {},
                {}};
    for (const CheckKind kind : {CheckKind::dead_point, CheckKind::transmission, CheckKind::ball_tilt,
                                 CheckKind::travel, CheckKind::clearance}) {
        double count = 0, fail = 0, close = 0;
        for (const std::size_t k : order) {
            if (e.checks[k].kind != kind) continue;
            ++count;
            const CheckState state = state_of(e.checks[k], e.worst[k].margin);
            fail += state == CheckState::fail;
            close += state == CheckState::close || unsure(reach, k);
        }
        table.rows.push_back({std::string(kind_word(kind)), count, fail, close});
    }
    return table;
}

Table discs_table(const Envelope& e) {
    Table table{"cyclic",
                "How far the cyclic stick may go, every way looked at, with every check kept (1 = full)",
                {{"collective", "collective", "", 2, true}, {"cyclic", "cyclic", ""}, {"ends", "what ends it", ""}},
                {},
                {}};
    for (std::size_t i = 0; i < e.discs.size(); ++i) {
        const Disc& disc = e.discs[i];
        Cell most = disc.cyclic ? Cell(*disc.cyclic) : Cell(std::string("none"));
        const bool cut = disc.cyclic && *disc.cyclic < 1;
        std::string why = disc.check            ? e.checks[*disc.check].words
                          : disc.opens          ? "the links no longer reach"
                          : !disc.cyclic || cut ? "the combined stick's limit"
                                                : "nothing";
        table.rows.push_back({e.collective[i], std::move(most), std::move(why)});
        table.parts.push_back(disc.check && !e.checks[*disc.check].parts.empty() ? e.checks[*disc.check].parts.front()
                                                                                 : "");
    }
    return table;
}

Table dead_points_table(const std::vector<DeadPointWay>& ways, head::Kind kind, bool hands) {
    Table table{
        "dead_points",
        fmt::format(
            "How far the sticks could go straight out from centred before the links no longer reach, at a dead point "
            "(1 = full; none up to {:g}{})",
            farthest_stick, hands ? "; hands at neutral" : ""),
        {{"way", "way", ""}, {"stick", "reach ends", ""}},
        {},
        {}};
    append(table.columns, stick_columns(kind));
    table.columns.push_back({"azimuth_deg", "rotor", "deg", 0});
    for (const DeadPointWay& way : ways) {
        table.rows.push_back({way.words, way.stick ? Cell(*way.stick) : Cell(std::string("none"))});
        if (way.stick) {
            append(table.rows.back(), stick_cells(kind, way.sticks));
            table.rows.back().emplace_back(way.azimuth_deg);
        }
        table.rows.back().resize(table.columns.size());
        table.parts.emplace_back();
    }
    return table;
}

}  // namespace

std::string how_sure(const Check& check, const Extreme& worst) {
    if (worst.within == 0 || at_least(check, worst)) return "";
    if (!std::isfinite(worst.within)) return " (the worst seen so far)";
    const double steps = std::max(1.0, std::ceil(100 * worst.within - 1e-6));
    return fmt::format(" (or up to {:.2f} {} {})", steps / 100, check.unit,
                       bound(check, worst.value) == check.high ? "more" : "less");
}

bool unsure(const Reach& reach, std::size_t k) {
    return reach.sought && may_fail(reach.envelope.worst[k]);
}

std::vector<std::size_t> nearest_first(const Reach& reach) {
    const Envelope& e = reach.envelope;
    std::vector<std::size_t> order;
    for (std::size_t k = 0; k < e.checks.size(); ++k)
        if (std::isfinite(e.worst[k].margin)) order.push_back(k);
    std::ranges::stable_sort(order, {}, [&](std::size_t k) {
        const double margin = e.worst[k].margin;
        return std::pair(margin < 0 ? 0 : unsure(reach, k) ? 1 : 2, share_of_close(e.checks[k], margin));
    });
    return order;
}

std::string bound_words(const Check& check, double value) {
    const double nearest = bound(check, value);
    return fmt::format("at {} {:.2f} {}", nearest == check.high ? "most" : "least", nearest, check.unit);
}

Checkers checkers_of(const head::Head& head, bool clearance) {
    Checkers out;
    out.push_back(ball_tilt_checker(head));
    out.push_back(crank_checker(head));
    out.push_back(dead_point_checker(head));
    out.push_back(travel_checker(head));
    if (clearance) out.push_back(clearance_checker(head));
    return out;
}

head::Result<Reach> reach(const head::Head& head, const ReachRequest& request) {
    const Checkers checkers = checkers_of(head, request.clearance);
    auto found = envelope(head, checkers, request.sweep);
    if (!found) return tl::unexpected(found.error());
    Reach out{std::move(*found), {}, {}, request.sweep.refine};
    for (const auto& checker : checkers)
        for (std::string& words : checker->left_out()) out.unchecked.push_back(std::move(words));
    if (request.sweep.refine) out.dead_points = dead_point_distance(head, request.sweep.workers, request.sweep.stop);
    if (request.sweep.stop.stop_requested()) return tl::unexpected(was_stopped());
    if (request.clearance) {
        out.unchecked.push_back(assumed_sizes(head.description()));
        out.unchecked.push_back(
            "Servo bodies, the guide, driver arms, frame and canopy have no shape unless the scene gives them one.");
    }
    return out;
}

Answer answer(const Reach& reach, std::size_t rows) {
    const Envelope& e = reach.envelope;
    const auto order = nearest_first(reach);
    Answer out;
    out.study = "reach";
    out.text = sentence(reach, order);
    const bool fails = !order.empty() && (e.worst[order.front()].margin < 0 || unsure(reach, order.front()));
    out.tone = e.opens ? Tone::trouble : fails ? Tone::notice : Tone::calm;
    out.tables = {checks_table(reach, order, rows)};
    if (!e.hands.empty()) out.tables.push_back(hands_table(e, order, rows));
    if (e.kind == head::Kind::main) out.tables.push_back(discs_table(e));
    append(out.tables,
           std::array{dead_points_table(reach.dead_points, e.kind, !e.hands.empty()), kinds_table(reach, order)});
    out.notes = {
        fmt::format("{}{}, every rotor azimuth{}{}",
                    e.kind == head::Kind::tail ? "The rudder from end to end"
                                               : "All sticks from end to end, " + head::envelope_words(e.mixing),
                    hands_of(e),
                    reach.sought
                        ? ", without gaps. Servo travel is proved. Every other worst value is bounded, not proved: no "
                          "farther from true than its row says as long as slopes change no more than was seen from "
                          "place to place, with a margin of that change again; at shapes from a mesh, as long as they "
                          "pass one another no more than a quarter faster than seen."
                        : ", at single places: between them a check may still be worse than its row says.",
                    e.kind == head::Kind::tail ? ""
                                               : " What the transmitter lets through is told by the mixing: the cyclic "
                                                 "stick's way and the sticks' limit."),
        "Close: within 2 deg of a bound (tilt of a ball link, a servo's horn), 1 deg (tilt of a ring), 5 deg (lever "
        "angle), 0.5 mm (a gap, a stop) or, of a hold, 0.1.",
        "Where a lever angle, a hold or a dead point fails, what helps is less travel, a hole nearer to the shaft on "
        "the horn, or levers and links set squarer to each other at mid stick; never a link made longer to reach.",
        "Bounds not given in the scene are usual ones (common practice, no source); measure yours. Verify on the "
        "model: a part that the scene does not know can touch all the same."};
    if (e.opens)
        out.notes.push_back(
            "Next to where the links no longer reach, within some hundredths of full stick, everything changes fast "
            "and nothing is bounded: values there may be worse than their rows say.");
    for (const std::string& words : reach.unchecked) out.notes.push_back(words);
    return out;
}

}  // namespace swashwright::studies
