#include "kinematics/studies/envelope/chart.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/head/stick_envelope.h"

namespace swashwright::studies {

namespace {

std::vector<double> evenly(double low, double high, std::size_t parts) {
    std::vector<double> out;
    for (std::size_t i = 0; i <= parts; ++i)
        out.push_back(low + (high - low) * static_cast<double>(i) / static_cast<double>(parts));
    return out;
}

/// How far out the cyclic stick gets, and how that changes with the collective.
std::array<double, 2> room(const head::Mixing& mixing, double collective) {
    const double most = std::max(0.0, head::most_cyclic_out(mixing, collective));
    return {most, most < 1 && most > 0 ? -std::copysign(1.0, collective) : 0.0};
}

}  // namespace

Chart::Chart(const head::Head& head, const std::vector<Hand>& hands, std::size_t azimuths)
    : head_(head),
      tail_(head.description().kind == head::Kind::tail),
      square_(head.description().mixing.cyclic_stick == head::CyclicStick::square),
      sense_(spin_sign(head.description().rotor.direction)) {
    if (tail_) {
        cuts_.push_back(evenly(-1, 1, 8));
    } else {
        cut_collective(hands.empty() ? 4 : 2);
        if (square_)  // two parts at least each way: how slopes change is seen from one to the next
            cuts_.insert(cuts_.end(), 2, evenly(-1, 1, hands.size() < 2 ? 4 : 2));
        else
            cuts_.push_back(evenly(0, 1, 2)), cuts_.push_back(evenly(-pi, pi, 8));
    }
    cuts_.push_back(evenly(-pi, pi, azimuths));
    for (const Hand& hand : hands)
        if (cuts_.size() < most_ways) cuts_.push_back(evenly(hand.least_deg, hand.most_deg, 2));
}

void Chart::cut_collective(std::size_t parts) {
    const double limit = head_.description().mixing.combined_limit, most = std::min(1.0, limit);
    std::vector<double> ends{-most, 0, most};
    if (limit > 1 && limit < 2) ends.insert(ends.end(), {1 - limit, limit - 1});
    std::ranges::sort(ends);
    std::vector<double> cuts{-most};
    for (std::size_t i = 1; i < ends.size(); ++i) {
        const double length = ends[i] - ends[i - 1];
        if (length <= 0) continue;
        const auto pieces =
            static_cast<std::size_t>(std::ceil(length * static_cast<double>(parts) / (2 * most) - 1e-9));
        const auto even = evenly(ends[i - 1], ends[i], std::max<std::size_t>(1, pieces));
        cuts.insert(cuts.end(), even.begin() + 1, even.end());
    }
    if (cuts.size() < 2) cuts.push_back(most);  // a limit of 0 leaves the centred sticks
    cuts_.push_back(std::move(cuts));
}

std::optional<int> Chart::input(std::size_t way) const {
    const std::size_t azimuth = azimuth_way();
    if (way < azimuth) return std::nullopt;
    return way == azimuth ? head_.parts().hub_input : head_.parts().hands[way - azimuth - 1].input;
}

Place Chart::place(const Ways& at) const {
    Place out;
    const std::size_t azimuth = azimuth_way();
    out.azimuth_deg = at[azimuth] / degree;
    for (std::size_t i = azimuth + 1; i < ways(); ++i) out.hand_deg.push_back(at[i]);
    if (tail_) {
        out.sticks.rudder = at[0];
        return out;
    }
    const double most = room(head_.description().mixing, at[0])[0];
    out.sticks.collective = at[0];
    if (square_) {
        out.sticks.aileron = at[1] * most, out.sticks.elevator = at[2] * most;
        return out;
    }
    const double direction = at[2] - sense_ * at[3], far = at[1] * most;
    out.sticks.aileron = far * std::sin(direction), out.sticks.elevator = far * std::cos(direction);
    return out;
}

void Chart::rates(const Ways& at, int width, std::vector<double>& out) const {
    const auto wide = static_cast<std::size_t>(width);
    out.assign(ways() * wide, 0.0);
    const std::size_t azimuth = azimuth_way();
    const auto rate = [&](std::size_t way, int input) -> double& {
        return out[way * wide + static_cast<std::size_t>(input)];
    };
    for (std::size_t way = azimuth + 1; way < ways(); ++way) rate(way, *input(way)) = degree;
    rate(azimuth, *input(azimuth)) = sense_;
    std::array<head::Sticks, 4> by{};  // of each way up to the azimuth
    const head::Sticks here = place(at).sticks;
    if (tail_) {
        by[0].rudder = 1;
    } else {
        const auto [most, slope] = room(head_.description().mixing, at[0]);
        by[0].collective = 1;
        if (square_) {
            by[0].aileron = slope * at[1], by[0].elevator = slope * at[2];
            by[1].aileron = by[2].elevator = most;
        } else {
            const double direction = at[2] - sense_ * at[3], sine = std::sin(direction), cosine = std::cos(direction);
            by[0].aileron = slope * at[1] * sine, by[0].elevator = slope * at[1] * cosine;
            by[1].aileron = most * sine, by[1].elevator = most * cosine;
            by[2].aileron = here.elevator, by[2].elevator = -here.aileron;
            by[3].aileron = -sense_ * here.elevator, by[3].elevator = sense_ * here.aileron;
        }
    }
    for (std::size_t j = 0; j < head_.description().servos.size(); ++j) {
        const auto& gain = head_.stick_gains_deg(static_cast<int>(j));
        const auto turn = [&](const head::Sticks& s) {
            return gain[0] * s.collective + gain[1] * s.aileron + gain[2] * s.elevator + gain[3] * s.rudder;
        };
        const double share = head::end_share(head_.description().servos[j], head_.raise_signs()[j] * turn(here));
        for (std::size_t way = 0; way <= azimuth; ++way)
            rate(way, static_cast<int>(j)) += share * turn(by[way]) * degree;
    }
}

}  // namespace swashwright::studies
