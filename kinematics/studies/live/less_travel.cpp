#include "kinematics/studies/live/less_travel.h"

#include "kinematics/head/solver.h"
#include "kinematics/studies/envelope/cranks.h"

namespace swashwright::studies {

bool holds_all_round(const head::Head& head, const head::Sticks& sticks) {
    constexpr int azimuths = 72;
    head::Solver solver(head);
    const auto dead_points = dead_point_checker(head);
    for (int a = 0; a < azimuths; ++a) {
        if (!solver.pose(sticks, 360.0 * a / azimuths) || !dead_points->look(solver)) return false;
        for (std::size_t i = 0; i < dead_points->checks().size(); ++i)
            if (dead_points->checks()[i].margin(dead_points->value(i)) < 0) return false;
    }
    return true;
}

std::optional<double> sound_share(const head::Head& head, const head::Sticks& sticks) {
    const auto holds_at = [&](int hundredths) {
        const double t = hundredths / 100.0;
        return holds_all_round(head,
                               {t * sticks.collective, t * sticks.aileron, t * sticks.elevator, t * sticks.rudder});
    };
    if (!holds_at(0)) return std::nullopt;
    int low = 0, high = 100;
    while (high - low > 1) {
        const int middle = (low + high) / 2;
        (holds_at(middle) ? low : high) = middle;
    }
    return low / 100.0;
}

}  // namespace swashwright::studies
