#include "kinematics/studies/envelope/dead_point_distance.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/solver.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/envelope/share_out.h"

namespace swashwright::studies {

namespace {

constexpr int directions = 24, azimuths = 36;
constexpr double stride = 0.1, within = 1e-3;

head::Sticks times(const head::Sticks& s, double t) {
    return {t * s.collective, t * s.aileron, t * s.elevator, t * s.rudder};
}

/// Where between two shares of `way`, at the first of which the loop closes, it opens; none where it closes at both.
std::optional<double> opening(head::Solver& solver, const head::Sticks& way, double azimuth_deg, double low,
                              double high) {
    solver.reset();
    solver.pose(times(way, low), azimuth_deg);
    if (solver.pose(times(way, high), azimuth_deg)) return std::nullopt;
    while (high - low > within) {
        const double middle = (low + high) / 2;
        (solver.pose(times(way, middle), azimuth_deg) ? low : high) = middle;
    }
    return low;
}

/// The azimuth at which the loop opens first along `way`, and how far, if before `most`. All azimuths go out together:
/// the ring is then solved once for each share of the way. None where it is stopped before.
std::optional<std::pair<double, double>> first_opening(head::Solver& solver, const head::Sticks& way, double most,
                                                       const std::stop_token& stop) {
    solver.reset();
    for (double low = 0; low < most && !stop.stop_requested();) {
        const double high = std::min(low + stride, most);
        std::vector<double> open;
        for (int a = 0; a < azimuths; ++a)
            if (const double azimuth_deg = 360.0 * a / azimuths; !solver.pose(times(way, high), azimuth_deg))
                open.push_back(azimuth_deg);
        std::optional<std::pair<double, double>> first;
        for (const double azimuth_deg : open)
            if (const auto found = opening(solver, way, azimuth_deg, low, first ? first->first : high))
                first = {*found, azimuth_deg};
        if (first) return first;
        low = high;
    }
    return std::nullopt;
}

/// Ways that are told as one.
struct Look {
    std::string words;
    std::vector<head::Sticks> ways;
};

std::vector<Look> looks_at(const head::Head& head) {
    if (head.description().kind == head::Kind::tail)
        return {{"rudder right", {{.rudder = 1}}}, {"rudder left", {{.rudder = -1}}}};
    const auto all_round = [&](double collective) {
        std::vector<head::Sticks> ways;
        for (int d = 0; d < directions; ++d)
            ways.push_back(
                head::sticks_at(head.description().mixing.cyclic_stick, collective, 1, 360.0 * d / directions));
        return ways;
    };
    return {{"collective up", {{.collective = 1}}},
            {"collective down", {{.collective = -1}}},
            {"cyclic", all_round(0)},
            {"collective up with cyclic", all_round(1)},
            {"collective down with cyclic", all_round(-1)}};
}

/// The first of some ways along which the loop opens.
DeadPointWay first_of(const head::Head& head, const Look& look, std::size_t begin, std::size_t end,
                      const std::stop_token& stop) {
    head::Solver solver(head);
    DeadPointWay out{look.words, {}, {}, 0};
    for (std::size_t w = begin; w < std::min(end, look.ways.size()); ++w)
        if (const auto found = first_opening(solver, look.ways[w], out.stick.value_or(farthest_stick), stop))
            out = {look.words, found->first, times(look.ways[w], found->first), found->second};
    return out;
}

}  // namespace

std::vector<DeadPointWay> dead_point_distance(const head::Head& head, int workers, const std::stop_token& stop) {
    constexpr std::size_t at_once = directions / 2, parts = 2;  // of each look
    const std::vector<Look> looks = looks_at(head);
    std::vector<DeadPointWay> firsts(parts * looks.size());
    share_out(workers_for(workers), firsts.size(), stop, [&](std::size_t, std::size_t task) {
        const std::size_t begin = task % parts * at_once;
        firsts[task] = first_of(head, looks[task / parts], begin, begin + at_once, stop);
    });
    std::vector<DeadPointWay> out;
    for (std::size_t task = 0; task < firsts.size(); task += parts) {
        const auto far = [](const DeadPointWay& way) { return way.stick.value_or(2 * farthest_stick); };
        out.push_back(*std::min_element(firsts.begin() + task, firsts.begin() + task + parts,
                                        [&](const auto& a, const auto& b) { return far(a) < far(b); }));
    }
    return out;
}

}  // namespace swashwright::studies
