#include "kinematics/studies/envelope/dead_point_distance.h"

#include <cmath>

#include "kinematics/head/solver.h"
#include "kinematics/head/stick_envelope.h"

namespace swashwright::studies {

namespace {

constexpr int directions = 24, azimuths = 36;
constexpr double stride = 0.1, within = 1e-3;

head::Sticks times(const head::Sticks& s, double t) {
    return {t * s.collective, t * s.aileron, t * s.elevator, t * s.rudder};
}

/// How far along `way` the loop closes, if it opens before `most`.
std::optional<double> opens_before(head::Solver& solver, const head::Sticks& way, double azimuth_deg, double most) {
    solver.reset();
    double low = 0, high = 0;
    while (high < most) {
        high = std::min(high + stride, most);
        if (solver.pose(times(way, high), azimuth_deg)) {
            low = high;
            continue;
        }
        while (high - low > within) {
            const double middle = (low + high) / 2;
            (solver.pose(times(way, middle), azimuth_deg) ? low : high) = middle;
        }
        return low;
    }
    return std::nullopt;
}

}  // namespace

std::vector<DeadPointWay> dead_point_distance(const head::Head& head) {
    head::Solver solver(head);
    std::vector<DeadPointWay> out;
    const auto look = [&](std::string words, const std::vector<head::Sticks>& ways) {
        DeadPointWay way{std::move(words), {}, {}, 0};
        for (const head::Sticks& to : ways)
            for (int a = 0; a < azimuths; ++a) {
                const double azimuth = 360.0 * a / azimuths;
                const auto found = opens_before(solver, to, azimuth, way.stick.value_or(farthest_stick));
                if (found) way = {std::move(way.words), found, times(to, *found), azimuth};
            }
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
