#include "kinematics/studies/lengths/settings.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/link_step.h"

namespace swashwright::studies {

using head::Description;
using head::NumberKind;

namespace {

/// What settings cost a builder: first how many are changed, then how many of these are not known to be off, then how
/// far they are turned, in steps.
Prices prices_of(const Description& d, const LengthsRequest& request, const std::vector<Grid>& grids) {
    constexpr double unknown = 1e-2, each_step = 1e-5;
    Prices out;
    for (std::size_t i = 0; i < grids.size(); ++i) {
        const FreeNumber& free = request.free[i];
        const double present = head::value(d, free.number);
        const double step = grids[i].size() > 1 ? grids[i][1] - grids[i][0] : 1;
        out.emplace_back();
        for (const double v : grids[i]) {
            const double steps = std::abs(v - present) / step;
            out.back().push_back(steps < 1e-6 ? 0 : 1 + (known_off(d, free) ? 0 : unknown) + each_step * steps);
        }
    }
    return out;
}

double price_of(const Eigen::VectorXd& setting, const std::vector<Grid>& grids, const Prices& prices) {
    double out = 0;
    for (std::size_t i = 0; i < grids.size(); ++i)
        if (const auto at = std::ranges::find(grids[i], setting[static_cast<Eigen::Index>(i)]); at != grids[i].end())
            out += prices[i][static_cast<std::size_t>(at - grids[i].begin())];
    return out;
}

/// What the least step of any stepped number that does something does to the wishes, weighted.
double least_effect(const BoundedFit& exact, const std::vector<Grid>& grids) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < grids.size(); ++i) {
        if (grids[i].size() < 2) continue;
        const double effect = (grids[i][1] - grids[i][0]) * exact.jacobian.col(static_cast<Eigen::Index>(i)).norm();
        if (effect > 1e-9) least = std::min(least, effect);
    }
    return std::isfinite(least) ? least : 0;
}

/// A link that gets shorter than `from` and too short for its two ends.
bool ends_meet(const Description& d, const LengthsRequest& request, const Eigen::VectorXd& from,
               const Eigen::VectorXd& to) {
    for (std::size_t i = 0; i < request.free.size(); ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        const head::Link* link = link_of(d, request.free[i].number);
        if (link && to[k] < from[k] && link_forms(*link, to[k] + link->error_mm).bare_rod < 0) return true;
    }
    return false;
}

}  // namespace

BoundedFit fewest_changes(const Problem& problem, const LengthsRequest& request, const Bounds& bounds,
                          const BoundedFit& exact) {
    constexpr double none = 1e-9, no_worse = 1e-7;  // mm or deg; weighted
    const Eigen::VectorXd present = problem.present();
    std::vector<Eigen::Index> order(request.free.size());
    std::iota(order.begin(), order.end(), 0);
    std::ranges::stable_sort(order, {}, [&](Eigen::Index i) {
        return std::pair(known_off(problem.base(), request.free[static_cast<std::size_t>(i)]),
                         std::abs(exact.x[i] - present[i]));
    });
    BoundedFit best = exact;
    Bounds narrow = bounds;
    for (const Eigen::Index i : order) {
        if (present[i] < bounds.least[i] || present[i] > bounds.most[i]) continue;
        Bounds tried = narrow;
        tried.least[i] = tried.most[i] = present[i];
        if (std::abs(best.x[i] - present[i]) > none) {
            const BoundedFit trial = problem.fit(best.x, tried.least, tried.most);
            if (!trial.started || trial.residual.norm() > exact.residual.norm() + no_worse) continue;
            if (ends_meet(problem.base(), request, best.x, trial.x)) continue;
            best = trial;
        }
        narrow = tried;
    }
    return best;
}

Grid grid_of(const Description& d, const FreeNumber& free, double x, bool trim_the_rest) {
    const auto i = static_cast<std::size_t>(free.number.index);
    const double present = head::value(d, free.number);
    if (free.number.kind == NumberKind::horn_length) {
        Grid holes = d.servos[i].horn_holes_mm;
        std::ranges::sort(holes);
        return holes.empty() ? Grid{present} : holes;
    }
    double step = 0;
    if (free.number.kind == NumberKind::neutral && !trim_the_rest) step = 360.0 / d.servos[i].spline_teeth;
    const head::Link* link = link_of(d, free.number);
    if (link && link->rod == head::Rod::plain) step = link_step(*link).mm;  // a turnbuckle is set to anything
    Grid out;
    if (step > 0) {
        // Back to the present, and as far the other way: what two links share may be left to one of them.
        const double middle = std::round((x - present) / step), around = 6 + std::abs(middle);
        for (double k = middle - around; k <= middle + around; ++k)
            if (const double v = present + k * step; v >= free.least && v <= free.most) out.push_back(v);
    }
    return step > 0 && out.empty() ? Grid{present} : out;
}

BoundedFit held(const Problem& problem, const Bounds& bounds, const std::vector<Grid>& grids,
                const Eigen::VectorXd& setting) {
    Bounds narrow = bounds;
    for (std::size_t i = 0; i < grids.size(); ++i)
        if (!grids[i].empty()) {
            const auto k = static_cast<Eigen::Index>(i);
            narrow.least[k] = narrow.most[k] = setting[k];
        }
    return problem.fit(setting, narrow.least, narrow.most);
}

BoundedFit best_setting(const Problem& problem, const LengthsRequest& request, const Bounds& bounds,
                        const std::vector<Grid>& grids, const BoundedFit& exact, const BoundedFit& start) {
    constexpr std::size_t tried = 24;
    const Prices prices = prices_of(problem.base(), request, grids);
    const double slack = equally_good * least_effect(exact, grids);
    std::vector<BoundedFit> trials{start};
    for (const auto& settings : {round_together(exact.x, exact.residual, exact.jacobian, grids, tried),
                                 round_sparingly(exact.x, exact.residual, exact.jacobian, grids, prices, slack, tried)})
        for (const Eigen::VectorXd& setting : settings) trials.push_back(held(problem, bounds, grids, setting));
    std::erase_if(trials, [](const BoundedFit& trial) { return !trial.started; });
    if (trials.empty()) return start;
    const auto left = [](const BoundedFit& trial) { return trial.residual.norm(); };
    const double least = left(*std::ranges::min_element(trials, {}, left));
    const double most = start.started ? std::min(least + slack, std::max(least, left(start))) : least + slack;
    std::erase_if(trials, [&](const BoundedFit& trial) { return left(trial) > most; });
    return *std::ranges::min_element(
        trials, {}, [&](const BoundedFit& trial) { return std::pair(price_of(trial.x, grids, prices), left(trial)); });
}

}  // namespace swashwright::studies
