#include "kinematics/studies/pitch/transmitter.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/build.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/mean.h"
#include "kinematics/studies/pitch/directions.h"
#include "kinematics/studies/pitch/range.h"

namespace swashwright::studies {
namespace {

using head::Description;
using head::Head;
using head::Result;

constexpr double no_share = 1e-9;

/// Travel of the horn that a stick commands in full: collective, aileron, elevator.
std::array<double, 3> travels(const Description& d) {
    return {d.mixing.collective_deg, d.mixing.cyclic_deg, d.mixing.cyclic_deg};
}

/// What the sticks command a servo's ball in full, deg of horn, raising positive.
std::array<double, 3> commands(const Head& head, std::size_t servo) {
    const auto& gains = head.stick_gains_deg(static_cast<int>(servo));
    const double raise = head.raise_signs()[servo];
    return {raise * gains[0], raise * gains[1], raise * gains[2]};
}

/// Round the ring, from one inner ball of a servo to the next.
std::vector<double> gaps_deg(const Description& d) {
    if (is_tail(d) || d.servos.size() < 2 || d.swashplate.inner_balls.size() < d.servos.size()) return {};
    std::vector<double> places;
    for (std::size_t j = 0; j < d.servos.size(); ++j)
        places.push_back(head::within_turn_deg(d.swashplate.inner_balls[j].angle_deg));
    std::ranges::sort(places);
    std::vector<double> out;
    for (std::size_t j = 0; j < places.size(); ++j)
        out.push_back(head::within_turn_deg(places[(j + 1) % places.size()] - places[j]));
    return out;
}

void add_channels(Transmitter& out, const Head& head, const PitchRange& range, const std::vector<bool>& reverse) {
    const Description& d = head.description();
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        Channel channel{d.servos[j].name, fmt::format("servo[{}]", j + 1)};
        if (!is_tail(d) && j < d.swashplate.inner_balls.size())
            channel.azimuth_deg = d.swashplate.inner_balls[j].angle_deg;
        const auto told = commands(head, j), full = travels(d);
        for (std::size_t i = 0; i < 3 && !is_tail(d); ++i)
            if (full[i] != 0) channel.share[i] = 100 * told[i] / full[i];
        channel.against_first = reverse[j] != reverse[0];
        channel.least_deg = range.servos[j].least_deg;
        channel.most_deg = range.servos[j].most_deg;
        channel.end_percent = 100 * std::max(std::abs(channel.least_deg), std::abs(channel.most_deg)) /
                              std::abs(d.servos[j].pulse_deg_per_us) / out.full_us;
        out.channels.push_back(std::move(channel));
    }
}

void add_main_sticks(Transmitter& out, const Description& d, const PitchRange& range, const Directions& way) {
    const auto percent = [&](double horn_deg) { return 100 * std::abs(horn_deg) / out.deg_per_us / out.full_us; };
    const auto position = [&](const char* stick, double at, double travel_deg, double pitch_deg) {
        out.positions.push_back({stick, at, at * travel_deg, at * travel_deg / out.deg_per_us, pitch_deg});
    };
    const auto [collective, aileron, elevator] = travels(d);
    out.sticks = {
        {"collective", collective, percent(collective), mean(range.collective.back().mean_deg), way.up_raises_pitch},
        {"aileron", aileron, percent(aileron), way.aileron.swing_deg, std::abs(way.aileron.off_deg) < 90},
        {"elevator", elevator, percent(elevator), way.elevator.swing_deg, std::abs(way.elevator.off_deg) < 90}};
    for (const CollectiveRow& row : range.collective)
        position("collective", row.collective, collective, mean(row.mean_deg));
    position("aileron", 1, aileron, way.aileron.swing_deg);
    position("elevator", 1, elevator, way.elevator.swing_deg);
}

void add_rudder(Transmitter& out, const Description& d, const PitchRange& range) {
    const double travel = d.mixing.rudder_deg;
    out.sticks = {{"rudder", travel, 100 * std::abs(travel) / out.deg_per_us / out.full_us,
                   mean(range.collective.back().mean_deg)}};
    for (const CollectiveRow& row : range.collective)
        out.positions.push_back({"rudder", row.collective, row.collective * travel,
                                 row.collective * travel / out.deg_per_us, mean(row.mean_deg)});
}

}  // namespace

Mix mix_of(const Description& d) {
    if (is_tail(d)) return Mix::one_servo;
    std::array<int, 3> servos{};  // of each stick
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        const head::StickGains weights = head::mixing_weights(d, j);
        int sticks = 0;
        for (std::size_t i = 0; i < servos.size(); ++i) {
            if (std::abs(weights[i]) < no_share) continue;
            ++sticks;
            if (++servos[i] > 1 || sticks > 1) return Mix::shared;
        }
    }
    return Mix::separate;
}

Result<Transmitter> transmitter(const Head& head, double full_us, const Going& going) {
    const Description& d = head.description();
    const auto range = pitch_range(head, {}, going.part(0, 0.9));
    if (!range) return tl::unexpected(range.error());
    const auto way = directions(head);
    if (!way) return tl::unexpected(way.error());
    Transmitter out;
    out.full_us = full_us;
    out.deg_per_us = std::abs(d.servos.front().pulse_deg_per_us);
    out.gain_given = std::ranges::any_of(
        d.servos, [](const head::Servo& servo) { return servo.pulse_deg_per_us != head::Servo{}.pulse_deg_per_us; });
    out.mix = mix_of(d);
    out.gaps_deg = gaps_deg(d);
    out.own_weights = std::ranges::any_of(d.servos, [](const head::Servo& servo) {
        return servo.collective_weight || servo.aileron_weight || servo.elevator_weight;
    });
    std::vector<bool> reverse(d.servos.size());
    for (std::size_t j = 0; j < way->servos.size(); ++j) reverse[j] = way->servos[j].reverse;
    add_channels(out, head, *range, reverse);
    if (is_tail(d))
        add_rudder(out, d, *range);
    else
        add_main_sticks(out, d, *range, *way);
    return out;
}

}  // namespace swashwright::studies
