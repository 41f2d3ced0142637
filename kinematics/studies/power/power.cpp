#include "kinematics/studies/power/power.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/pitch/range.h"
#include "kinematics/studies/pitch/wanted_range.h"

namespace swashwright::studies {

namespace {

using head::Description;
using head::Head;
using head::Result;

constexpr double rpm = pi / 30;  // in rad/s

tl::unexpected<head::Failure> fail(std::string why) {
    return tl::unexpected(head::Failure{std::move(why), {}});
}

Description with(Description d, const PowerOptions& options) {
    head::Flight& flight = d.flight;
    if (options.mass_kg) flight.model_mass_kg = options.mass_kg;
    if (options.engine_w) flight.power_w = options.engine_w;
    if (options.efficiency) flight.gear_efficiency = options.efficiency;
    if (options.temperature_c) flight.air_temperature_c = options.temperature_c;
    if (options.height_m) flight.air_height_m = options.height_m;
    if (options.head_speed_rpm) d.rotor.head_speed_rpm = *options.head_speed_rpm;
    if (options.tachometer) d.rotor.head_speed_rpm = options.tachometer->before_rpm;
    return d;
}

/// By what a sagging climb takes the engine's power is known. Not where that pitch does not climb.
std::optional<double> power_by(const Craft& craft, const Tachometer& read) {
    Craft sagged = craft;
    sagged.speed = read.climbing_rpm * rpm;
    const Climb there = climb(sagged, *read.pitch_deg);
    return there.m_s > 0 ? std::optional(there.power_w / craft.efficiency) : std::nullopt;
}

PowerFigures figures(Craft craft, const std::optional<Tachometer>& read) {
    PowerFigures out;
    if (read) out.engine_w = craft.engine_w = power_by(craft, *read);
    out.hover_deg = hover_deg(craft);
    if (!out.hover_deg) return out;
    out.hover_w = standing_w(craft, *out.hover_deg);
    out.used_deg = used_up_deg(craft, true);
    if (out.used_deg) out.climb_m_s = climb(craft, *out.used_deg).m_s;
    out.first_deg = used_up_deg(craft, false);
    return out;
}

/// Something that is not known well, and a craft in which it is off by its usual share.
using Unsure = Craft (*)(Craft);

/// Usual shares: guesses, common practice, no source. What is given counts as far as it is never known better.
constexpr Unsure unsure[] = {[](Craft c) {
                                 c.disc.chord_m *= c.chord_guessed ? 1.1 : 1;
                                 return c;
                             },
                             [](Craft c) {
                                 c.disc.section.lift_slope *= c.slope_guessed ? 1.08 : 1.05;
                                 return c;
                             },
                             [](Craft c) {
                                 c.disc.section.drag *= c.drag_guessed ? 1.25 : 1.1;
                                 return c;
                             },
                             [](Craft c) {
                                 c.mass_kg *= c.mass_guessed ? 1.25 : 1;
                                 return c;
                             },
                             [](Craft c) {
                                 c.efficiency *= c.efficiency_guessed ? 0.92 : 0.97;
                                 return c;
                             },
                             [](Craft c) {
                                 if (c.engine_w) *c.engine_w *= 0.85;
                                 return c;
                             },
                             [](Craft c) {
                                 c.body_m2 *= 2;
                                 return c;
                             },
                             [](Craft c) {
                                 c.density *= c.air_guessed ? 0.96 : 1;
                                 return c;
                             }};

constexpr std::optional<double> PowerFigures::*each_figure[] = {&PowerFigures::hover_deg, &PowerFigures::hover_w,
                                                                &PowerFigures::used_deg,  &PowerFigures::climb_m_s,
                                                                &PowerFigures::first_deg, &PowerFigures::engine_w};

/// Root of the sum of squares of what each unsure thing changes; of a figure that one of them takes away, none.
PowerFigures doubts(const Craft& craft, const std::optional<Tachometer>& read, const PowerFigures& found,
                    const Going& going) {
    std::vector<PowerFigures> others;
    for (const Unsure& off : unsure)
        if (!going.stopped()) others.push_back(figures(off(craft), read));
    if (read) {  // the speed in the climb read one in a hundred off
        Tachometer off = *read;
        off.climbing_rpm *= 0.99;
        others.push_back(figures(craft, off));
    }
    PowerFigures out;
    for (const auto figure : each_figure) {
        if (!(found.*figure)) continue;
        double sum = 0;
        const bool all = std::ranges::all_of(others, [&](const PowerFigures& other) {
            if (other.*figure) sum += std::pow(*(other.*figure) - *(found.*figure), 2);
            return (other.*figure).has_value();
        });
        if (all) out.*figure = std::sqrt(sum);
    }
    return out;
}

PitchRow row(const Craft& craft, std::string words, double deg, std::optional<double> doubt = {}) {
    const auto at = [&](double pitch_deg) { return lift(craft.disc, craft.air(), pitch_deg * degree); };
    const Lift here = at(deg), below = at(deg - 0.5), above = at(deg + 0.5);
    const auto climbing = [&](double pitch_deg) { return climb(craft, std::abs(pitch_deg)); };
    PitchRow out;
    out.words = std::move(words);
    out.pitch_deg = deg;
    out.doubt_deg = doubt;
    out.thrust_percent = 100 * here.thrust_n / craft.weight_n();
    out.standing_w = here.power_w;
    out.climb = climbing(deg);
    out.loading = here.loading;
    out.stalled_percent = 100 * here.stalled_share;
    out.more_loading = above.loading - below.loading;
    out.more_standing_w = above.power_w - below.power_w;
    out.more_climb_w = climbing(deg + 0.5).power_w - climbing(deg - 0.5).power_w;
    return out;
}

double half_degrees(double deg) {
    return std::floor(2 * deg + 0.5) / 2;
}

/// A degree wide, below where power is used up by as much as that is in doubt, well below the stall, above the hover.
std::optional<std::array<double, 2>> start(const Power& p) {
    if (!p.figures.hover_deg || !p.craft.engine_w) return std::nullopt;
    constexpr double stall_doubt_deg = 2;  // a guess: the lift coefficient of the stall is known to 0.15 or so
    double high = p.stall_deg.value_or(most_pitch_deg) - stall_doubt_deg;
    if (p.figures.used_deg) high = std::min(high, *p.figures.used_deg - p.doubts.used_deg.value_or(1));
    if (*p.craft.rotor_w() < *p.figures.hover_w) return std::nullopt;  // not even that
    high = half_degrees(high);
    if (high - 1 < *p.figures.hover_deg) return std::nullopt;
    return std::array{high - 1, high};
}

void look_at_pitches(Power& p) {
    const auto add = [&](const char* words, std::optional<double> deg, std::optional<double> doubt = {}) {
        if (deg) p.places.push_back(row(p.craft, words, *deg, doubt));
    };
    add("hover", p.figures.hover_deg, p.doubts.hover_deg);
    add("sticks' present place", p.now_deg);
    add("full collective", p.full_deg);
    add("all power used in a steady climb", p.figures.used_deg, p.doubts.used_deg);
    add("all power used in the first moment", p.figures.first_deg, p.doubts.first_deg);
    add("blades begin to stall", p.stall_deg);
    const double last =
        std::clamp(std::max({std::abs(p.full_deg), std::abs(p.now_deg), p.figures.used_deg.value_or(0) + 1, 12.0}), 0.0,
                   most_pitch_deg);
    for (int deg = 0; deg <= 2 * static_cast<int>(std::ceil(last / 2)); ++deg) p.curve.push_back(row(p.craft, "", deg));
}

void look_at_speeds(Power& p) {
    for (const double share : {0.7, 0.8, 0.9, 1.0, 1.1}) {
        Craft craft = p.craft;  // with the power by the tachometer where there is one
        craft.speed *= share;
        SpeedRow out{craft.speed / rpm, figures(craft, {}), {}};
        if (out.figures.hover_deg) out.loading = lift(craft.disc, craft.air(), *out.figures.hover_deg * degree).loading;
        p.speeds.push_back(std::move(out));
    }
}

/// As `range` finds it for wanted ends, with the cyclic that there is.
void look_at_travel(const Head& head, const PitchRange& range, Power& p) {
    const head::Mixing& mixing = head.description().mixing;
    p.horn_deg = mixing.collective_deg;
    const Interaction& middle = range.interaction[1];
    const double cyclic = (middle.gain_deg[0] + middle.gain_deg[1]) / 2;
    for (const double deg : *p.start_deg) {
        TravelRow out{deg, {}, false};
        if (const auto gains = horn_gains(head, {deg, cyclic})) {
            out.collective_deg = gains->collective_deg;
            out.within_travel = std::ranges::all_of(gains->servos, &HornNeed::within_travel);
        }
        p.travels.push_back(out);
    }
}

}  // namespace

Result<Power> power(const Head& head, const PowerOptions& options, const Going& going) {
    if (is_tail(head.description()))
        return fail("power is asked of a main rotor, which carries a model; this is a tail");
    Power out;
    out.options = options;
    out.craft = craft(with(head.description(), options));
    Craft& craft = out.craft;
    if (!(craft.speed > 0)) return fail("The rotor stands still: power is asked of one that turns; give a head speed.");
    if (!(craft.disc.root_m < craft.disc.tip_m)) return fail("Nothing of the blade is outside of its bolt.");
    const auto range = pitch_range(head, {}, going.part(0, 0.6));
    if (!range) return tl::unexpected(range.error());
    out.full_deg = mean(range->collective.back().mean_deg);
    const auto now = pitch_harmonics(head, main_stick_at(head.description(), options.sticks.collective));
    if (!now) return tl::unexpected(now.error());
    for (const Harmonics& blade : *now) out.now_deg += blade.mean / static_cast<double>(now->size());

    std::optional<Tachometer>& read = out.options.tachometer;
    if (read && !read->pitch_deg) read->pitch_deg = out.full_deg;
    out.figures = figures(craft, read);
    if (read && !out.figures.engine_w)
        return fail(
            fmt::format("At {:.2f} deg and {:.0f} turns a minute the blades do not carry this model up, so no "
                        "power follows: see to its mass, the pitch and the head speeds.",
                        *read->pitch_deg, read->climbing_rpm));
    going.tell(0.7);
    out.doubts = doubts(craft, read, out.figures, going);
    if (going.stopped()) return tl::unexpected(was_stopped());
    going.tell(0.8);
    if (read) craft.engine_w = out.figures.engine_w;
    out.stall_deg = stall_deg(craft);
    if (out.figures.hover_deg) out.simple = simple_hover(craft.disc, craft.air(), craft.weight_n());
    out.start_deg = start(out);
    look_at_pitches(out);
    look_at_speeds(out);
    if (going.stopped()) return tl::unexpected(was_stopped());
    going.tell(0.9);
    if (out.start_deg) look_at_travel(head, *range, out);
    return out;
}

}  // namespace swashwright::studies
