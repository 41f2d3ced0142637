#include "kinematics/studies/envelope/dead_point_distance.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/solver.h"
#include "kinematics/head/stick_envelope.h"

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

}  // namespace

std::vector<DeadPointWay> dead_point_distance(const head::Head& head, const std::stop_token& stop) {
    head::Solver solver(head);
    std::vector<DeadPointWay> out;
    const auto look = [&](std::string words, const std::vector<head::Sticks>& ways) {
        DeadPointWay way{std::move(words), {}, {}, 0};
        for (const head::Sticks& to : ways)
            if (const auto found = first_opening(solver, to, way.stick.value_or(farthest_stick), stop))
                way = {std::move(way.words), found->first, times(to, found->first), found->second};
        out.push_back(std::move(way));
    };
    if (head.description().kind == head::Kind::tail) {
        look("rudder right", {{.rudder = 1}});
        look("rudder left", {{.rudder = -1}});
        return out;
    }
    const auto all_round = [&](double collective) {
        std::vector<head::Sticks> ways;
        for (int d = 0; d < directions; ++d)
            ways.push_back(
                head::sticks_at(head.description().mixing.cyclic_stick, collective, 1, 360.0 * d / directions));
        return ways;
    };
    look("collective up", {{.collective = 1}});
    look("collective down", {{.collective = -1}});
    look("cyclic", all_round(0));
    look("collective up with cyclic", all_round(1));
    look("collective down with cyclic", all_round(-1));
    return out;
}

}  // namespace swashwright::studies
