#include "kinematics/studies/pitch/wanted_range.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "kinematics/head/numbers.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/pitch/range.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using head::Result;
using head::Sticks;

/// What the blades do with one gain of the mixing, and how fast that grows with the gain.
struct Reach {
    double value_deg = 0, slope = 0;
};

enum class Gain { collective, cyclic };

Result<Head> with_gains(const Description& description, double collective_deg, double cyclic_deg) {
    Description changed = description;
    changed.mixing.collective_deg = collective_deg;
    changed.mixing.cyclic_deg = cyclic_deg;
    return Head::build(changed);
}

/// Slopes of every blade's harmonics by a gain of the mixing, at these sticks.
Result<std::vector<Harmonics>> by_gain(const Head& head, Gain gain, const Sticks& sticks) {
    const auto number =
        head::number_at(head.description(), gain == Gain::collective ? "mixing.collective_deg" : "mixing.cyclic_deg");
    return harmonic_slopes(head, sticks,
                           [&](head::Solver& solver, head::Slopes& out) { solver.slopes_by(*number, out, sticks); });
}

/// Adds the share that one stick position has in the reach: the mean pitch for collective, for cyclic the swing that it
/// adds to that of `centred` sticks.
Result<bool> add(const Head& head, Gain gain, const Sticks& sticks, double share, const std::vector<Harmonics>& centred,
                 Reach& reach) {
    const auto pitch = pitch_harmonics(head, sticks);
    if (!pitch) return tl::unexpected(pitch.error());
    const auto slopes = by_gain(head, gain, sticks);
    if (!slopes) return tl::unexpected(slopes.error());
    const double each = share / static_cast<double>(pitch->size());
    for (std::size_t k = 0; k < pitch->size(); ++k) {
        const Harmonics &h = (*pitch)[k], &d = (*slopes)[k];
        const Harmonic added = difference(h.first(), centred[k].first());
        reach.value_deg += each * (gain == Gain::collective ? h.mean : added.amplitude());
        reach.slope += each * (gain == Gain::collective ? d.mean : amplitude_slope(added, d.first()));
    }
    return true;
}

Result<Reach> reach_of(const Head& head, Gain gain) {
    Reach reach;
    const bool collective = gain == Gain::collective;
    const Sticks ends[2] = {collective ? Sticks{1, 0, 0} : Sticks{0, 1, 0},
                            collective ? Sticks{-1, 0, 0} : Sticks{0, 0, 1}};
    const auto centred = pitch_harmonics(head, {});
    if (!centred) return tl::unexpected(centred.error());
    for (int i = 0; i < 2; ++i)
        if (auto done = add(head, gain, ends[i], collective && i == 1 ? -0.5 : 0.5, *centred, reach); !done)
            return tl::unexpected(done.error());
    return reach;
}

/// Newton for one gain; a step that the linkage cannot follow is halved.
Result<double> solve(const Description& description, Gain gain, double wanted_deg, double start_deg) {
    const auto evaluate = [&](double gain_deg) -> Result<Reach> {
        const bool collective = gain == Gain::collective;
        const auto head = with_gains(description, collective ? gain_deg : 0, collective ? 0 : gain_deg);
        if (!head) return tl::unexpected(head.error());
        return reach_of(*head, gain);
    };
    const char* what = gain == Gain::collective ? "collective" : "cyclic";
    double at = start_deg;
    Result<Reach> here = evaluate(at);
    for (int halvings = 0; !here && halvings < 20; ++halvings) here = evaluate(at *= 0.5);
    if (!here) return tl::unexpected(here.error());
    for (int step = 0, halvings = 0; step < 40 && halvings < 30; ++step) {
        const double miss = wanted_deg - here->value_deg;
        if (std::abs(miss) < 1e-10) return at;
        if (std::abs(here->slope) < 1e-6) break;
        double by = std::clamp(miss / here->slope, -30.0, 30.0);
        Result<Reach> next = evaluate(at + by);
        while ((!next || std::abs(wanted_deg - next->value_deg) >= std::abs(miss)) && ++halvings < 30)
            next = evaluate(at + (by *= 0.5));
        if (!next || std::abs(wanted_deg - next->value_deg) >= std::abs(miss)) {
            if (std::abs(miss) < 1e-8) return at;  // as near as the poses' own accuracy lets it come
            break;
        }
        at += by;
        here = next;
    }
    return tl::unexpected(head::Failure{
        fmt::format("{:.2f} deg of {} is out of the linkage's reach: it got to {:.2f} deg with {:.1f} deg of horn "
                    "travel; take longer horns or shorter pitch arms",
                    wanted_deg, what, here->value_deg, at),
        {}});
}

HornNeed need(const Head& head, std::size_t servo) {
    const head::Servo& s = head.description().servos[servo];
    const auto& gains = head.stick_gains_deg(static_cast<int>(servo));
    const double reach = head::most_command_deg(head.description().mixing, gains);
    HornNeed out{std::abs(gains[0]), s.trim_deg - reach, s.trim_deg + reach, true};
    out.within_travel = out.least_deg >= s.travel_deg[0] && out.most_deg <= s.travel_deg[1];
    return out;
}

/// The ends that a head really has, blades averaged.
Result<bool> read_ends(const Head& head, HornGains& out) {
    const auto centred = pitch_harmonics(head, {});
    if (!centred) return tl::unexpected(centred.error());
    const auto share = 1 / static_cast<double>(centred->size());
    for (const Harmonics& h : *centred) {
        out.middle_deg += share * h.mean;
        out.own_deg += share * h.first().amplitude();
    }
    const std::pair<Sticks, double*> looks[] = {{{-1, 0, 0}, &out.low_deg},
                                                {{1, 0, 0}, &out.high_deg},
                                                {{0, 1, 0}, &out.aileron_deg},
                                                {{0, 0, 1}, &out.elevator_deg}};
    for (const auto& [sticks, value] : looks) {
        const auto pitch = pitch_harmonics(head, sticks);
        if (!pitch) return tl::unexpected(pitch.error());
        if (sticks.collective == 0)
            *value = swing_added(*pitch, *centred);
        else
            for (const Harmonics& h : *pitch) *value += share * h.mean;
    }
    return true;
}

}  // namespace

Result<HornGains> horn_gains(const Head& head, const WantedRange& wanted) {
    const Description& description = head.description();
    if (is_tail(description))
        return tl::unexpected(head::Failure{
            "horn travel for wanted ends is found for a main rotor's collective and cyclic; of a tail, ask for the "
            "link lengths with mixing.rudder_deg free (lengths --range LEFT,RIGHT --free links,mixing.rudder_deg)",
            {}});
    if (!std::isfinite(wanted.collective_deg) || !std::isfinite(wanted.cyclic_deg) || wanted.cyclic_deg < 0)
        return tl::unexpected(head::Failure{"wanted collective and cyclic must be finite, cyclic not below 0", {}});
    HornGains out;
    out.wanted = wanted;
    // Start from what the scene has, so that its signs are kept; from a usual travel where it has none.
    const auto start = [](double present, double usual) { return std::abs(present) > 1 ? present : usual; };
    const auto collective =
        solve(description, Gain::collective, wanted.collective_deg, start(description.mixing.collective_deg, 15));
    if (!collective) return tl::unexpected(collective.error());
    out.collective_deg = *collective;
    if (wanted.cyclic_deg > 0) {
        const auto cyclic =
            solve(description, Gain::cyclic, wanted.cyclic_deg, start(description.mixing.cyclic_deg, 8));
        if (!cyclic) return tl::unexpected(cyclic.error());
        out.cyclic_deg = *cyclic;
    }
    const auto set = with_gains(description, out.collective_deg, out.cyclic_deg);
    if (!set) return tl::unexpected(set.error());
    for (std::size_t j = 0; j < description.servos.size(); ++j) out.servos.push_back(need(*set, j));
    if (auto done = read_ends(*set, out); !done) return tl::unexpected(done.error());
    return out;
}

namespace {

Table travel_table(const HornGains& gains, const Description& description) {
    Table servos{"wanted_travel",
                 "Horn travel that this needs, about neutral, in the horn's own sense, trim included",
                 {{"servo", "servo", ""},
                  {"collective_deg", "collective", "deg", 2},
                  {"least_deg", "all sticks from", "deg", 2, true},
                  {"most_deg", "to", "deg", 2, true},
                  {"travel_least_deg", "travel from", "deg", 1, true},
                  {"travel_most_deg", "to", "deg", 1, true},
                  {"travel", "", ""}},
                 {},
                 {}};
    for (std::size_t j = 0; j < gains.servos.size(); ++j) {
        const HornNeed& need = gains.servos[j];
        const head::Servo& servo = description.servos[j];
        servos.rows.push_back({servo.name, need.collective_deg, need.least_deg, need.most_deg, servo.travel_deg[0],
                               servo.travel_deg[1], std::string(need.within_travel ? "within" : "beyond")});
        servos.parts.push_back(fmt::format("servo[{}]", j + 1));
    }
    return servos;
}

}  // namespace

Answer answer(const HornGains& gains, const Description& description) {
    const bool within = std::ranges::all_of(gains.servos, [](const HornNeed& s) { return s.within_travel; });
    Answer out;
    out.study = "range";
    out.text = fmt::format(
        "For {}/{} deg of collective and {:.1f} deg of cyclic: collective travel {:.2f} deg, "
        "cyclic travel {:.2f} deg; {}, with {}.",
        signed_figure(-gains.wanted.collective_deg, 1), signed_figure(gains.wanted.collective_deg, 1),
        gains.wanted.cyclic_deg, gains.collective_deg, gains.cyclic_deg,
        within ? "every servo has that travel at all sticks" : "a servo runs out of travel",
        head::envelope_words(description.mixing));
    if (gains.wanted.cyclic_deg > 0) out.text += own_swing(gains.own_deg);
    out.tone = within ? Tone::calm : Tone::notice;
    Table ends{"wanted_ends",
               "Pitch that this gives, blades averaged (leading edge up positive); swing to either side that full "
               "cyclic adds, and the one that is there with no cyclic",
               {{"low_deg", "low", "deg", 3, true},
                {"middle_deg", "middle", "deg", 3, true},
                {"high_deg", "high", "deg", 3, true},
                {"aileron_deg", "full aileron", "deg", 3},
                {"elevator_deg", "full elevator", "deg", 3},
                {"own_deg", "no cyclic", "deg", 3},
                {"mixing_collective_deg", "collective travel", "deg", 3, true},
                {"mixing_cyclic_deg", "cyclic travel", "deg", 3, true}},
               {{gains.low_deg, gains.middle_deg, gains.high_deg, gains.aileron_deg, gains.elevator_deg, gains.own_deg,
                 gains.collective_deg, gains.cyclic_deg}},
               {}};
    out.tables = {ends, travel_table(gains, description)};
    out.notes = {
        "Wanted collective is half the way from low to high, so unequal ends share the difference; wanted cyclic is "
        "the swing that full cyclic adds at mid collective to the one that is there with none, mean of aileron and "
        "elevator.",
        "All sticks: what the transmitter lets through, as the mixing says.", even_linkage, stabilised};
    return out;
}

}  // namespace swashwright::studies
