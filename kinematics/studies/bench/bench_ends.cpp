// Both ends of the collective: range, and the blades against each other.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/bench/bench_stages.h"

namespace swashwright::studies {
namespace {

using head::Result;
using head::Role;

// Common practice, no source.
constexpr double travel_counts = 0.03;   // of the pitch range: what a transmitter's travel is worth setting by
constexpr double least_share = 1.0 / 6;  // of the range; less is no travel but something else
constexpr double shift_deg = 0.5;        // of both ends together

double spread(const std::vector<double>& values) {
    const auto [low, high] = std::ranges::minmax_element(values);
    return *high - *low;
}

/// The blade that is farthest off the others; of two the one that is farther off.
std::size_t odd_one(const std::vector<double>& off_deg) {
    std::vector<double> sorted = off_deg;
    std::ranges::sort(sorted);
    const double middle = off_deg.size() > 2 ? sorted[sorted.size() / 2] : 0;
    const auto farther = [&](double a, double b) { return std::abs(a - middle) < std::abs(b - middle); };
    return static_cast<std::size_t>(std::ranges::max_element(off_deg, farther) - off_deg.begin());
}

}  // namespace

Result<void> BenchStages::ends() {
    const std::string stage = "Ends";
    const auto up = pitches({.collective = 1}), down = pitches({.collective = -1});
    if (!up || !down) {
        add({.stage = stage,
             .say = "Less collective travel: at full stick the links no longer reach.",
             .more = (!up ? up.error().message : down.error().message) + ".",
             .tool = BenchTool::transmitter});
        return {};
    }
    add({.stage = stage,
         .say = "Collective to both ends, the cyclic stick all the way round: nothing binds, nothing touches.",
         .more = "Turn the rotor by hand meanwhile. A servo that hums against a stop wants less travel.",
         .tool = BenchTool::transmitter,
         .sticks = {.collective = 1}});
    const Ends wanted{up->front(), down->front()};
    for (int round = 1; round <= most_bench_rounds; ++round) {
        const auto high =
            ask(gauge(stage, 0, {.collective = 1}, "Collective full up", round, wanted.up_deg, wanted.up_deg));
        const auto low =
            ask(gauge(stage, 0, {.collective = -1}, "Collective full down", round, wanted.down_deg, wanted.down_deg));
        if (!high || !low || !tell_ends(wanted, {*high, *low})) return {};
    }
    other_cause(stage, "The range does not come by travel alone.", "");
    return {};
}

bool BenchStages::tell_ends(const Ends& wanted, const Ends& read) {
    const double range = wanted.up_deg - wanted.down_deg, seen = read.up_deg - read.down_deg;
    const std::string both = fmt::format("Full up read {} deg, full down {} deg.", signed_figure(read.up_deg, 1),
                                         signed_figure(read.down_deg, 1));
    BenchStep step{.stage = "Ends", .say = {}, .more = {}, .tool = BenchTool::transmitter};
    bool again = true;
    if (std::abs(seen) < least_share * std::abs(range)) {
        step.say = fmt::format("Hardly any travel between the ends: {:.1f} deg.", std::abs(seen));
        step.more = both + " Look at the pitch curve and its hold, and whether the gauge sits firmly. Then read again.";
    } else if (range * seen < 0) {
        step.say = "Collective runs the wrong way: reverse it in the transmitter.";
        step.more = both + " Look at the horns' way again, too.";
    } else if (const double share = range / seen - 1; std::abs(share) >= travel_counts) {
        step.say = fmt::format("Collective travel in the transmitter: {:.0f} % {}.", 100 * std::abs(share),
                               share > 0 ? "more" : "less");
        step.more = fmt::format(
            "From end to end it read {:.1f} deg; this head makes {:.1f} deg with the travel "
            "that it is described with.",
            std::abs(seen), std::abs(range));
    } else {
        again = false;
        const double shift = (read.up_deg + read.down_deg - wanted.up_deg - wanted.down_deg) / 2;
        const bool shifted = std::abs(shift - off_deg_.front().value_or(0)) > shift_deg;
        step.say = shifted ? fmt::format("The range is right, but both ends read {:.1f} deg too {}.", std::abs(shift),
                                         shift > 0 ? "high" : "low")
                           : "The ends are right.";
        step.more = both + (shifted ? " Read zero pitch again with the sticks centred; then look at horn centres, "
                                      "sub-trims and the pitch curve."
                                    : "");
    }
    add(std::move(step));
    return again;
}

/// Pitch that one step of an upper link makes, the largest: what zeroing by whole steps may leave.
double BenchStages::step_deg() const {
    double out = 0;
    if (const auto track = tracking(stand_, head::Sticks{}))
        for (const LinkSetting& s : track->settings)
            out = std::max(out, std::abs(s.deg_per_mm) * link_step(*head::link_of(head_.description(), s.link)).mm);
    return out;
}

bool BenchStages::zero_is_known() const {
    return std::ranges::all_of(off_deg_, [](const auto& off) { return off.has_value(); });
}

/// The blades differ at the end of the stick by what whole steps of their links left at mid stick.
bool BenchStages::apart_as_at_zero(const std::vector<double>& off_deg) const {
    std::vector<double> since = off_deg;
    for (std::size_t k = 0; k < since.size(); ++k) {
        if (!off_deg_[k]) return spread(off_deg) <= even_deg + step_deg();
        since[k] -= *off_deg_[k];
    }
    return spread(since) <= 2 * even_deg;  // of four readings
}

Result<void> BenchStages::track() {
    const std::string stage = "Track";
    const auto wanted = pitches({.collective = 1});
    if (!wanted || blades() < 2) return {};
    std::vector<double> read, off;
    for (std::size_t k = 0; k < blades(); ++k)
        if (const auto value =
                ask(gauge(stage, k, {.collective = 1}, "Collective full up again", 1, (*wanted)[k], (*wanted)[k])))
            read.push_back(*value), off.push_back(*value - (*wanted)[k]);
    if (read.size() < blades()) return {};
    const std::string in_flight =
        "What is left shows in the air: from afar, tips marked, never a head in the plane of the disc.";
    const std::size_t odd = odd_one(off);
    if (spread(read) <= even_deg)
        add({.stage = stage,
             .say = "The blades agree at the end of the stick, too.",
             .more = fmt::format("{:.1f} deg apart. {}", spread(read), in_flight)});
    else if (apart_as_at_zero(off))
        add({.stage = stage,
             .say = fmt::format("{:.1f} deg apart at full stick: {}.", spread(read),
                                spread(off) <= even_deg ? "so the open head makes it"
                                : zero_is_known()       ? "as at mid stick, where no step of a link brings them nearer"
                                                        : "no more than a step of a link makes; read them with the "
                                                          "sticks centred too"),
             .more = in_flight});
    else
        add({.stage = stage,
             .say = fmt::format("{:.1f} deg apart at full stick. Where they agree at mid stick, no link does that.",
                                spread(read)),
             .more = fmt::format("Look at pitch arm, ring ball and grip of blade {}, which is farthest off, and ask "
                                 "which part explains the readings, on the sheet of questions. Turn no link for it.",
                                 odd + 1),
             .part = head::path_of({Role::grip, static_cast<int>(odd)})});
    return {};
}

}  // namespace swashwright::studies
