#include "kinematics/studies/envelope/search.h"

#include <algorithm>
#include <array>
#include <limits>
#include <utility>

namespace swashwright::studies {

namespace {

constexpr double worth = 1e-3;  // of what counts as close: what a whole step of the search must gain, less for less
constexpr std::array<std::array<double, 4>, 6> ways{
    {{0, 0, 0, 1}, {0, 0, 1, 0}, {0, 0, 1, 1}, {0, 0, 1, -1}, {0, 1, 0, 0}, {1, 0, 0, 0}}};

}  // namespace

std::optional<Extreme> Search::from(Point start, const Point& steps) {
    const auto first = at(start, std::numeric_limits<double>::infinity());
    if (!first) return std::nullopt;
    Extreme best = *first;
    double scale = 1;
    const auto goes_better = [&](Point to) {
        if (best.margin < until_) return false;
        const auto there = at(std::move(to), best.margin);
        if (!there || share_of_close(probe_.check(check_), best.margin - there->margin) <= worth * scale) return false;
        best = *there;
        start = reached_;
        return true;
    };
    for (int halved = 0; halved < halvings_ && best.margin >= until_;) {
        bool better = false;
        for (const auto& way : ways) {
            if (held_ && (way[0] != 0 || way[1] != 0)) continue;
            for (const double step : {scale, -scale})
                better |= goes_better({start.collective + step * way[0] * steps.collective,
                                       start.cyclic + step * way[1] * steps.cyclic,
                                       start.direction_deg + step * way[2] * steps.direction_deg,
                                       start.azimuth_deg + step * way[3] * steps.azimuth_deg, start.hand_deg});
        }
        for (std::size_t i = 0; i < start.hand_deg.size(); ++i)
            for (const double step : {scale, -scale}) {
                Point moved = start;
                moved.hand_deg[i] += step * steps.hand_deg[i];
                better |= goes_better(std::move(moved));
            }
        if (!better) scale /= 2, ++halved;
    }
    return best;
}

std::optional<Extreme> Search::at(Point p, double enough) {
    const double most_collective = std::min(1.0, in_.mixing.combined_limit);
    p.collective = std::clamp(p.collective, -most_collective, most_collective);
    p.cyclic = std::clamp(p.cyclic, 0.0, most_out(in_, p.collective));
    for (std::size_t i = 0; i < p.hand_deg.size(); ++i)
        p.hand_deg[i] = std::clamp(p.hand_deg[i], in_.hands[i].least_deg, in_.hands[i].most_deg);
    const Place place = p.place(in_);
    if (!probe_.go(place)) return std::nullopt;
    const auto value = probe_.value_below(check_, enough);
    if (!value) return std::nullopt;
    reached_ = std::move(p);
    return Extreme{*value, probe_.check(check_).margin(*value), place};
}

}  // namespace swashwright::studies
