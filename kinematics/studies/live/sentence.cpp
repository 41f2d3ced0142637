#include "kinematics/studies/live/sentence.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "kinematics/head/azimuth.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/answer/words.h"
#include "kinematics/studies/envelope/ball_tilt.h"
#include "kinematics/studies/envelope/envelope.h"
#include "kinematics/studies/envelope/travel.h"
#include "kinematics/studies/live/less_travel.h"
#include "kinematics/studies/live/link_advice.h"
#include "kinematics/studies/pitch/split_cause.h"

namespace swashwright::studies {

namespace {

// Below these the screen would show 0.0, and a turnbuckle cannot be set finer: common practice, no source.
constexpr double same_pitch_deg = 0.02;
constexpr double level_deg = 0.1;
constexpr double centred = 1e-6;
constexpr double same_label_deg = 0.005;  // labels have two decimals
constexpr double shown_mm = 0.005;        // the same

const char* every_blade(std::size_t count) {
    return count == 2 ? "both blades" : "every blade";
}

std::string closed_with_stop(std::string text) {
    if (!text.empty() && text.back() != '.') text += '.';
    return text;
}

bool cyclic_centred(const head::Sticks& sticks) {
    return std::abs(sticks.aileron) < centred && std::abs(sticks.elevator) < centred;
}

std::string stick_words(const head::Sticks& sticks) {
    const char* ahead = sticks.elevator > centred ? "forward" : sticks.elevator < -centred ? "back" : "";
    const char* side = sticks.aileron > centred ? "right" : sticks.aileron < -centred ? "left" : "";
    return fmt::format("{}{}{} stick", ahead, *ahead && *side ? " and " : "", side);
}

const char* ask_for_less(const head::Head& head) {
    return is_tail(head.description()) ? "Ask for less rudder" : "Ask for less collective or cyclic";
}

/// What to do where sticks ask for more than the linkage can do, of which this share is sound: a longer link only moves
/// its dead point.
std::string less_travel(const head::Head& head, double share) {
    const std::string ask = fmt::format("{}; another length is no cure here.", ask_for_less(head));
    if (share < 0.01) return ask + " Next to nothing of it can be given.";
    return fmt::format(
        "{} Up to {:.0f} % of it every link keeps its hold all round the turn: limit the {}, or take a hole nearer to "
        "the shaft on the horns.",
        ask, 100 * share, is_tail(head.description()) ? "rudder" : "sticks");
}

/// How a loop that does not close can be made to: where the head is sound with sticks centred by less travel; else by a
/// length that was tried on the head, if one is found.
Sentence open_loop(const head::Head& head, const head::Sticks& sticks, const head::Failure& failure, Causes causes) {
    if (causes == Causes::left_out) return sentence(failure);
    const std::string text = capitalised(closed_with_stop(failure.message)) + " ";
    const bool open_at_neutral = head.neutral_failure() != nullptr;
    if (const auto share = open_at_neutral ? std::nullopt : sound_share(head, sticks))
        return {Tone::trouble, text + less_travel(head, *share)};
    if (const auto advice = link_advice(head, failure))
        return {Tone::trouble, text + advice_words(*advice, open_at_neutral ? failure : head::Failure{})};
    return {Tone::trouble,
            fmt::format("{}{}Measure again what {}.", text,
                        open_at_neutral ? ""
                                        : "Even with sticks centred a part stands at a dead point or close "
                                          "to one. ",
                        failure.shortfalls.size() == 1 ? "it joins" : "the links join")};
}

std::optional<Sentence> beyond_travel(const head::Head& head, const head::Sticks& sticks, Causes causes) {
    const std::vector<std::string> servos = head.beyond_travel(head.horn_angles_deg(sticks));
    if (servos.empty()) return std::nullopt;
    std::string list = servos[0];
    for (std::size_t i = 1; i < servos.size(); ++i) list += "; " + servos[i];
    if (causes == Causes::left_out)
        return Sentence{Tone::notice, fmt::format("Past the end of servo travel, {}.", list)};
    const bool always = !head.beyond_travel(head.horn_angles_deg({})).empty();
    return Sentence{Tone::notice,
                    fmt::format("Past the end of servo travel, {}. {}.", list,
                                always ? "Even centred sticks are: look at trim and travel" : ask_for_less(head))};
}

struct Binding {
    Check check;
    double value, azimuth_deg;
};

/// The ball link or stop that is farthest past its limit, here or elsewhere in the turn.
std::optional<Binding> worst_binding(const head::Head& head, const head::Sticks& sticks, double azimuth_deg) {
    constexpr int places = 36;
    head::Solver solver(head);
    std::optional<Binding> worst;
    double worst_share = 0;
    const std::unique_ptr<Checker> families[] = {ball_tilt_checker(head), travel_checker(head)};
    for (int a = 0; a < places; ++a) {  // first the place in sight
        const double at = azimuth_deg + 360.0 * a / places;
        if (!solver.pose(sticks, at)) continue;
        for (const auto& family : families) {
            if (!family->look(solver)) continue;
            for (std::size_t i = 0; i < family->checks().size(); ++i) {
                const Check& check = family->checks()[i];
                if (check.key.starts_with("travel.servo")) continue;  // said before
                const double share = share_of_close(check, check.margin(family->value(i)));
                if (share < worst_share - 1e-6) worst_share = share, worst = {check, family->value(i), at};
            }
        }
    }
    return worst;
}

std::string binding_words(const Binding& worst) {
    const bool most = worst.value > worst.check.high;
    return fmt::format("It binds with the rotor at {:.0f} deg: {} comes to {} {}, where {} {} {} is free.",
                       head::within_turn_deg(worst.azimuth_deg), worst.check.words, figure(worst.value, 2),
                       worst.check.unit, most ? "at most" : "at least",
                       figure(most ? worst.check.high : worst.check.low, 2), worst.check.unit);
}

/// The program warns when up stick lowers pitch; it never flips a sign by itself.
std::optional<Sentence> direction(const head::Head& head, Causes causes) {
    if (is_tail(head.description())) return std::nullopt;  // either may be right: `directions` tells
    constexpr double step = 0.1;                           // of full stick, either side of centre
    const auto above = head.pose(head::Sticks{.collective = step}, 0);
    const auto below = head.pose(head::Sticks{.collective = -step}, 0);
    if (!above || !below) return std::nullopt;
    double change = 0;
    for (std::size_t k = 0; k < above->pitch_deg.size(); ++k) change += above->pitch_deg[k] - below->pitch_deg[k];
    if (change >= -same_pitch_deg) return std::nullopt;
    if (causes == Causes::left_out) return Sentence{Tone::notice, "Up stick lowers the pitch."};
    if (above->height_mm > below->height_mm)
        return Sentence{Tone::notice,
                        "Up stick lowers the pitch: it raises the ring, and with these pitch arms a rising ring "
                        "lowers the pitch. Change the sign of the collective travel."};
    return Sentence{Tone::notice,
                    "Up stick lowers the pitch, because it lowers the ring. Change the sign of the collective travel."};
}

/// ": upper link 2 is 0.30 mm too long"
std::string because(const Cause& cause, Causes causes) {
    return causes == Causes::told ? ": " + cause.words : "";
}

/// More than one, and alike among themselves.
bool others_agree(const TurnCurve& curve, std::size_t subject, std::size_t other) {
    for (std::size_t k = 0; k < curve.blades.size(); ++k)
        if (k != subject && std::abs(curve.blades[k].mean_deg - curve.blades[other].mean_deg) > same_pitch_deg)
            return false;
    return curve.blades.size() > 2;
}

/// The labels differ by `apart_deg` wherever the rotor stands.
bool seen_everywhere(const TurnCurve& curve, std::size_t high, std::size_t low, double apart_deg) {
    for (std::size_t i = 0; i < curve.azimuth_deg.size(); ++i)
        if (std::abs(curve.blades[high].pitch_deg[i] - curve.blades[low].pitch_deg[i] - apart_deg) > same_label_deg)
            return false;
    return true;
}

std::optional<Sentence> split(const head::Head& head, const head::Sticks& sticks, const TurnCurve& curve,
                              Causes causes) {
    const double split_deg = curve.split_deg();
    if (split_deg < same_pitch_deg) return std::nullopt;
    const bool told = causes == Causes::told;
    const Cause cause = told ? split_cause(head, sticks, curve) : Cause{};
    // The blade whose part is at fault is the one to speak of; else one that stands alone.
    const bool low_is_subject = told ? cause.blade == static_cast<int>(curve.lowest_blade)
                                     : others_agree(curve, curve.lowest_blade, curve.highest_blade) &&
                                           !others_agree(curve, curve.highest_blade, curve.lowest_blade);
    const std::size_t subject = low_is_subject ? curve.lowest_blade : curve.highest_blade;
    const std::size_t other = low_is_subject ? curve.highest_blade : curve.lowest_blade;
    const bool all_others = others_agree(curve, subject, other);
    const double apart_deg = low_is_subject ? -split_deg : split_deg;
    bool seen = true;
    for (std::size_t k = 0; k < curve.blades.size(); ++k)
        if (k == other || (all_others && k != subject)) seen = seen && seen_everywhere(curve, subject, k, apart_deg);
    const std::string text = fmt::format(
        "{}lade {} takes {:.2f} deg {} pitch{} than {}{}.", seen ? "B" : "At the same places of the disc, b",
        subject + 1, split_deg, low_is_subject ? "less" : "more", seen ? "" : " in the mean over a turn",
        all_others ? "the others" : fmt::format("blade {}", other + 1), because(cause, causes));
    return Sentence{Tone::notice, text};
}

std::optional<Sentence> leaning_ring(const head::Head& head, const head::Sticks& sticks, const head::Pose& pose,
                                     Causes causes) {
    if (!cyclic_centred(sticks) || pose.tilt_deg < level_deg || !head.model().ring_tilts()) return std::nullopt;
    // Away from centre a sound head's ring may lean a little: no news unless it does at centre too, or a part is at
    // fault.
    const auto neutral = head.pose(head::Sticks{}, 0);
    const bool at_centre = neutral && neutral->tilt_deg >= level_deg;
    const Cause cause = at_centre ? tilt_cause(head, {}, neutral->tilt_deg) : tilt_cause(head, sticks, pose.tilt_deg);
    if (!cause.found && !at_centre) return std::nullopt;
    return Sentence{Tone::notice,
                    fmt::format("The ring leans {:.2f} deg with the cyclic stick centred, lowest towards {}{}.",
                                pose.tilt_deg, place_in_words(pose.lowest_azimuth_deg), because(cause, causes))};
}

/// "the pitch of both blades runs from -6.02 to +6.02 deg in a turn"; where they differ, from the least of one to the
/// most of another.
std::string ranges(const std::vector<BladeTurn>& blades) {
    const auto [least, least_end] = std::ranges::minmax_element(blades, {}, &BladeTurn::least_deg);
    const auto [most_start, most] = std::ranges::minmax_element(blades, {}, &BladeTurn::most_deg);
    const bool alike = least_end->least_deg - least->least_deg < same_pitch_deg &&
                       most->most_deg - most_start->most_deg < same_pitch_deg;
    const std::string from = signed_figure(least->least_deg, 2), to = signed_figure(most->most_deg, 2);
    if (alike)
        return fmt::format("the pitch of {} runs from {} to {} deg in a turn", every_blade(blades.size()), from, to);
    return fmt::format("the pitch of the blades runs from {} (blade {}) to {} deg (blade {}) in a turn", from,
                       least - blades.begin() + 1, to, most - blades.begin() + 1);
}

/// The blades' mean with the rudder at both ends.
std::string tail_ends(const head::Head& head) {
    const auto left = head.pose(head::Sticks{.rudder = -1}, 0), right = head.pose(head::Sticks{.rudder = 1}, 0);
    if (!left || !right) return fmt::format(" With full {} rudder the links no longer reach.", left ? "right" : "left");
    return fmt::format(" Full left rudder gives {} deg, full right {} deg.", signed_figure(mean(left->pitch_deg), 2),
                       signed_figure(mean(right->pitch_deg), 2));
}

/// A tail turns all blades alike.
Sentence tail_doings(const head::Sticks& sticks, const TurnCurve& curve) {
    std::vector<double> means;
    for (const BladeTurn& blade : curve.blades) means.push_back(blade.mean_deg);
    const std::string where = std::abs(sticks.rudder) < centred ? "Rudder centred"
                              : sticks.rudder > 0               ? "Right rudder"
                                                                : "Left rudder";
    return {Tone::calm, fmt::format("{}: {} {} {} deg of pitch.", where, every_blade(means.size()),
                                    means.size() == 2 ? "take" : "takes", signed_figure(mean(means), 2))};
}

Sentence doings(const head::Head& head, const head::Sticks& sticks, const head::Pose& pose, const TurnCurve& curve) {
    if (is_tail(head.description())) return tail_doings(sticks, curve);
    const std::size_t count = curve.blades.size();
    if (!cyclic_centred(sticks) && head.model().ring_tilts())
        return {Tone::calm,
                fmt::format("{} tilts the ring {:.2f} deg, lowest towards {}: {}.", capitalised(stick_words(sticks)),
                            pose.tilt_deg, place_in_words(pose.lowest_azimuth_deg), ranges(curve.blades))};
    double mean_deg = 0;
    for (const BladeTurn& blade : curve.blades) mean_deg += blade.mean_deg / static_cast<double>(count);
    const bool steady = std::ranges::all_of(curve.blades, [&](const BladeTurn& blade) {
        return blade.most_deg < mean_deg + 2 * same_label_deg && blade.least_deg > mean_deg - 2 * same_label_deg;
    });
    const auto [least, most] = std::ranges::minmax(curve.blades, {}, &BladeTurn::mean_deg);
    const std::string who = most.mean_deg - least.mean_deg > 2 * same_label_deg
                                ? "on average the blades take"
                                : std::string(every_blade(count)) + (count == 2 ? " take" : " takes");
    const std::string pitch =
        fmt::format("{} {} deg of pitch{}", who, signed_figure(mean_deg, 2), steady ? "" : " in the mean over a turn");
    const auto neutral = head.pose(head::Sticks{}, 0);
    if (std::abs(sticks.collective) < centred || !neutral)
        return {Tone::calm, fmt::format("Sticks centred: {}.", pitch)};
    const double rise = pose.height_mm - neutral->height_mm;
    return {Tone::calm, fmt::format("{} stick {} the ring {:.2f} mm: {}.", sticks.collective > 0 ? "Up" : "Down",
                                    rise >= 0 ? "raises" : "lowers", std::abs(rise), pitch)};
}

/// The first that applies, of a head that closes.
Sentence first_that_applies(const head::Head& head, const head::Sticks& sticks, double azimuth_deg,
                            const head::Pose& pose, const TurnCurve& curve, Causes causes) {
    if (auto s = beyond_travel(head, sticks, causes)) return *s;
    if (const auto worst = worst_binding(head, sticks, azimuth_deg)) {
        const std::string binds = binding_words(*worst);
        const bool told = causes == Causes::told;
        if (told && !worst_binding(head, {}, azimuth_deg))
            return {Tone::notice, fmt::format("{} {}.", binds, ask_for_less(head))};
        for (const auto& cause : {split(head, sticks, curve, causes), leaning_ring(head, sticks, pose, causes)})
            if (cause) return {Tone::notice, binds + " " + cause->text};
        if (!told) return {Tone::notice, binds};
        return {Tone::notice,
                binds + " So it does with sticks centred: measure studs, sockets and stops, and enter them."};
    }
    if (auto s = direction(head, causes)) return *s;
    if (auto s = split(head, sticks, curve, causes)) return *s;
    if (auto s = leaning_ring(head, sticks, pose, causes)) return *s;
    return doings(head, sticks, pose, curve);
}

}  // namespace

Sentence sentence(const head::Failure& failure) {
    return {Tone::trouble, capitalised(closed_with_stop(failure.message))};
}

Sentence sentence(const head::Head& head, const head::Sticks& sticks, double azimuth_deg) {
    return sentence(head, sticks, azimuth_deg, turn_curve(head, sticks));
}

Sentence sentence(const head::Head& head, const head::Sticks& sticks, double azimuth_deg,
                  const head::Result<TurnCurve>& curve, Causes causes) {
    if (const head::Failure* failure = head.neutral_failure()) return open_loop(head, sticks, *failure, causes);
    const head::Result<head::Pose> pose = head.pose(sticks, azimuth_deg);
    if (!pose) return open_loop(head, sticks, pose.error(), causes);
    if (!curve) return open_loop(head, sticks, curve.error(), causes);
    Sentence out = first_that_applies(head, sticks, azimuth_deg, *pose, *curve, causes);
    if (is_tail(head.description())) out.text += tail_ends(head);
    if (pose->misfit_mm.value_or(0) >= shown_mm)
        out.text +=
            fmt::format(" Links or pins are too many: the joints need {:.2f} mm of play here.", *pose->misfit_mm);
    return out;
}

}  // namespace swashwright::studies
