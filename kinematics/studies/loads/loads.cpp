#include "kinematics/studies/loads/loads.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/loads/load_peaks.h"
#include "kinematics/studies/loads/load_turn.h"
#include "kinematics/studies/pitch/harmonics.h"
#include "kinematics/studies/pitch/turn_slopes.h"

namespace swashwright::studies {

double HornLoad::holds_nmm() const {
    return std::abs(peak.value) + friction_nmm;
}

std::optional<double> HornLoad::margin() const {
    if (!usable_nmm || !(holds_nmm() > 0)) return std::nullopt;
    return *usable_nmm / holds_nmm();
}

namespace {

/// Calls with the balance at each azimuth of a turn that closes.
template <class Each>
void round_the_turn(Flying& flying, const head::Sticks& sticks, const Each& each) {
    for (const double azimuth : turn_azimuths(turn_samples))
        if (const auto balance = flying.at(sticks, azimuth)) each(*balance);
}

/// As far as the transmitter lets the main stick go.
double main_stick_end(const head::Description& d) {
    return is_tail(d) ? 1 : std::min(1.0, d.mixing.combined_limit);
}

std::vector<BladeRow> blade_rows(Flying& flying) {
    std::vector<BladeRow> out;
    for (const double part : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
        const double stick = part * main_stick_end(flying.head().description());
        const head::Sticks sticks = main_stick_at(flying.head().description(), stick);
        if (!flying.at(sticks, 0)) continue;
        const Hover& air = flying.air(sticks);
        const BladeMoment& moment = flying.moments().front();
        const double pitch = flying.pitch_deg(0);
        out.push_back({stick, pitch, air.coning / degree, moment,
                       moment_doubt_nm(flying.blade(), air, moment, pitch * degree, flying.cone(air))});
    }
    return out;
}

/// Of the row whose moment is largest.
double doubt_share(const std::vector<BladeRow>& rows) {
    const auto size = [](const BladeRow& row) { return std::abs(row.moment.total()); };
    const auto most = std::ranges::max_element(rows, {}, size);
    return most == rows.end() || !(size(*most) > 0) ? 0 : most->doubt_nm / size(*most);
}

/// Parts of a turn's samples; none where a place of it does not close.
void split_turn(HornLoad& horn, Flying& flying, std::size_t j) {
    std::vector<double> samples;
    round_the_turn(flying, horn.peak.place.sticks,
                   [&](const Balance& balance) { samples.push_back(raising_nmm(flying.head(), balance, j)); });
    if (samples.size() != static_cast<std::size_t>(turn_samples)) return;
    const Harmonics parts = harmonics(samples);
    horn.steady_nmm = parts.mean;
    horn.once_nmm = parts.first().amplitude();
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const double angle = 2 * pi * static_cast<double>(i) / turn_samples;
        const double once = parts.first().cosine * std::cos(angle) + parts.first().sine * std::sin(angle);
        horn.more_nmm = std::max(horn.more_nmm, std::abs(samples[i] - parts.mean - once));
    }
}

/// What a servo can do: torque and speed by its rating. A motor's stall torque and its speed without load go with the
/// voltage, and its speed falls in a straight line with the torque (of a direct-current motor; from memory).
void rate(HornLoad& horn, const head::ServoRating& rating, const LoadsOptions& options) {
    const double by_volts = options.volts && rating.rated_volts ? *options.volts / *rating.rated_volts : 1;
    const auto stall = rating.stall_nmm();
    if (stall) horn.usable_nmm = *stall * by_volts * options.usable_share;
    if (!rating.seconds_per_60deg) return;
    horn.free_s = horn.travel_deg / 60 * *rating.seconds_per_60deg / by_volts;
    if (!stall) return;
    const double left = 1 - horn.holds_nmm() / (*stall * by_volts);
    if (left > 0) horn.loaded_s = *horn.free_s / left;
}

/// Farthest from end to end of one stick.
double travel_deg(const head::Head& head, int servo) {
    double most = 0;
    for (const double gain : head.stick_gains_deg(servo)) most = std::max(most, 2 * std::abs(gain));
    return most;
}

head::Result<void> add_horns(Loads& out, Flying& flying, const LoadPeaks& peaks) {
    const head::Head& head = flying.head();
    for (std::size_t j = 0; j < head.description().servos.size(); ++j) {
        HornLoad horn;
        horn.peak = peaks.horns[j];
        if (const auto there = flying.at(horn.peak.place.sticks, horn.peak.place.azimuth_deg))
            horn.peak.value = raising_nmm(head, *there, j);
        split_turn(horn, flying, j);
        FrictionOptions light;
        light.sticks = horn.peak.place.sticks;
        light.ball_nmm = out.options.ball_nmm;
        light.bearing_nmm = out.options.bearing_nmm;
        auto rubs = friction(head, light);
        if (!rubs) {  // the turn goes past a dead point there
            light.sticks = {};
            rubs = friction(head, light);
        }
        if (!rubs) return tl::unexpected(rubs.error());
        horn.friction_nmm = rubs->horns[j].nmm;
        horn.travel_deg = travel_deg(head, static_cast<int>(j));
        rate(horn, head.description().servos[j].rating, out.options);
        out.horns.push_back(horn);
    }
    return {};
}

void add_links_and_levers(Loads& out, const head::Head& head, const LoadPeaks& peaks) {
    for (std::size_t i = 0; i < head.model().rods().size(); ++i)
        out.links.push_back({head.model().rods()[i].part, peaks.pulls[i], peaks.pushes[i]});
    for (const head::Part& part : head.model().parts()) {
        const auto i = static_cast<std::size_t>(std::max(0, part.index));
        if (part.role == head::Role::grip)
            out.levers.push_back({part.path, "pitch arm of " + part.words, peaks.grips[i]});
        if (part.role == head::Role::lever) out.levers.push_back({part.path, part.words, peaks.levers[i]});
    }
}

void look_here(Loads& out, Flying& flying) {
    const head::Head& head = flying.head();
    round_the_turn(flying, out.options.sticks, [&](const Balance& balance) {
        for (std::size_t j = 0; j < out.horns.size(); ++j)
            if (const double here = raising_nmm(head, balance, j); std::abs(here) > std::abs(out.horns[j].here_nmm))
                out.horns[j].here_nmm = here;
        for (std::size_t i = 0; i < out.links.size(); ++i) {
            const double force = balance.force_n[static_cast<std::size_t>(head.model().rods()[i].closure.index)];
            out.links[i].here_pull_n = std::max(out.links[i].here_pull_n, force);
            out.links[i].here_push_n = std::max(out.links[i].here_push_n, -force);
        }
    });
}

std::optional<GiveRow> give_row(Flying& flying, const head::Sticks& sticks) {
    std::vector<double> pitch, with;
    round_the_turn(flying, sticks, [&](const Balance& balance) {
        pitch.push_back(flying.pitch_deg(0));
        with.push_back(pitch.back() + balance.give_deg[0]);
    });
    if (pitch.size() != static_cast<std::size_t>(turn_samples)) return std::nullopt;
    const Harmonics before = harmonics(pitch), after = harmonics(with);
    return GiveRow{sticks, before.mean, after.mean - before.mean, before.first().amplitude(),
                   after.first().amplitude() - before.first().amplitude()};
}

std::vector<GiveRow> give_rows(Flying& flying, const head::Sticks& asked) {
    const head::Description& d = flying.head().description();
    const double end = main_stick_end(d);
    std::vector<head::Sticks> places{main_stick_at(d, -end), main_stick_at(d, 0), main_stick_at(d, end)};
    if (!is_tail(d))
        for (const double direction : {0.0, 90.0})
            places.push_back(head::sticks_at(d.mixing.cyclic_stick, 0, head::most_cyclic_out(d.mixing, 0), direction));
    if (std::ranges::find(places, asked) == places.end()) places.push_back(asked);
    std::vector<GiveRow> out;
    for (const head::Sticks& sticks : places)
        if (const auto row = give_row(flying, sticks)) out.push_back(*row);
    return out;
}

}  // namespace

head::Result<Loads> loads(const head::Head& head, const LoadsOptions& options, const Going& going) {
    const head::Description& d = head.description();
    if (const head::Failure* open = head.neutral_failure()) return tl::unexpected(*open);
    Loads out;
    out.options = options;
    out.blade = load_blade(d);
    out.weights = std::ranges::any_of(d.grips, [](const head::Grip& grip) { return !grip.weights.empty(); });
    FlyingOptions flight = usual_flight(d, options.head_speed_rpm, options.coning_deg);
    out.head_speed_rpm = flight.head_speed_rpm;
    out.density = flight.density;
    flight.give = options.give;
    Flying flying(head, flight);
    if (!flying.at({}, 0)) return tl::unexpected(head::Failure{"at neutral the head stands at a dead point", {}});
    out.blades = blade_rows(flying);
    out.doubt_share = doubt_share(out.blades);
    out.shared = StaticBalance::shares(head);
    const LoadPeaks peaks = load_peaks(flying, going.part(0.1, 0.8));
    if (going.stopped()) return tl::unexpected(was_stopped());
    out.places = peaks.places;
    out.open = peaks.open;
    if (const auto done = add_horns(out, flying, peaks); !done) return tl::unexpected(done.error());
    if (going.stopped()) return tl::unexpected(was_stopped());
    add_links_and_levers(out, head, peaks);
    look_here(out, flying);
    out.gives = give_rows(flying, options.sticks);
    return out;
}

}  // namespace swashwright::studies
