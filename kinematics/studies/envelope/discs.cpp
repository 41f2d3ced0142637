#include "kinematics/studies/envelope/discs.h"

#include <algorithm>
#include <limits>

#include "kinematics/studies/envelope/least.h"

namespace swashwright::studies {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr int search_halvings = 12;
constexpr double disc_step = 1e-3;  // to which the largest cyclic is found

}  // namespace

/// Nowhere in the envelope: links reach everywhere, and its worst value is told closely enough to say so.
bool DiscFinder::cannot_fail(std::size_t k) const {
    return !in_.opens && in_.worst[k].margin - in_.worst[k].within >= 0;
}

/// Least margin of check `k` at one collective and cyclic distance, sought from where a neighbouring cell has it.
bool DiscFinder::keeps(Probe& probe, std::size_t k, double collective, double cyclic, const Place& near) const {
    Point start = point_of(near, in_);
    start.collective = collective;
    start.cyclic = cyclic;
    probe.reset();
    const auto found = Search(probe, k, in_, true, search_halvings, 0).from(start, steps_);
    return found && found->margin >= 0;
}

/// A check that fails somewhere round one collective and cyclic distance, and where.
std::optional<std::pair<std::size_t, Place>> DiscFinder::failing(Probe& probe, double collective, double cyclic) const {
    std::vector<Extreme> least(in_.checks.size(), {0, infinite, {}});
    probe.reset();
    round_.visit(in_, collective, cyclic, stop_, [&](const Place& place, int, int) {
        if (!probe.go(place)) return;
        for (std::size_t k = 0; k < least.size(); ++k)
            if (!cannot_fail(k)) keep_least(probe, in_.checks[k], k, place, least[k]);
    });
    for (std::size_t k = 0; k < least.size(); ++k)
        if (least[k].margin < 2 * in_.checks[k].close && !keeps(probe, k, collective, cyclic, least[k].place))
            return std::pair(k, least[k].place);
    return std::nullopt;
}

Disc DiscFinder::largest(Probe& probe, std::size_t c) const {
    const double collective = in_.collective[c];
    double most = head::most_cyclic_out(in_.mixing, collective);
    Disc disc;
    if (most < 0) return disc;
    const auto end = [&](std::optional<std::size_t> check, double cyclic) {
        most = cyclic;
        disc = {cyclic, check, !check};
    };
    const auto halve = [](auto&& holds, double low, double high) {
        while (high - low > disc_step) (holds((low + high) / 2) ? low : high) = (low + high) / 2;
        return low;
    };
    disc.cyclic = most;
    for (std::size_t r = 0; r < in_.cyclic.size() && in_.inside(c, r); ++r)
        if (const auto& place = opens_[cell(c, r)]) {
            if (r == 0) return {{}, {}, true};
            const auto closes = [&](double cyclic) {
                Point p = point_of(*place, in_);
                p.cyclic = cyclic;
                probe.reset();
                return probe.go(p.place(in_));
            };
            end({}, halve(closes, in_.cyclic[r - 1], std::min(in_.cyclic[r], most)));
            break;
        }
    for (std::size_t k = 0; k < in_.checks.size() && !stop_.stop_requested(); ++k) {
        if (cannot_fail(k)) continue;
        for (std::size_t r = 0; r < in_.cyclic.size() && in_.inside(c, r); ++r) {
            const double kept_to = r == 0 ? 0 : in_.cyclic[r - 1], cyclic = std::min(in_.cyclic[r], most);
            if (kept_to >= most) break;
            const Extreme& here = in_.cells[k][cell(c, r)];
            if (here.margin == infinite) break;
            // Between the sweep's places a margin can be a little less than the least that was seen.
            if (here.margin >= 2 * in_.checks[k].close) continue;
            const auto kept = [&](double x) { return keeps(probe, k, collective, x, here.place); };
            if (here.margin >= 0 && kept(cyclic)) continue;
            if (r == 0) return {{}, k, false};
            end(k, halve(kept, kept_to, cyclic));
            break;
        }
    }
    // Where the sweep saw the least margin need not be where it is least at the disc's edge.
    while (disc.cyclic && disc.check && *disc.cyclic > disc_step && !stop_.stop_requested()) {
        const auto fails = failing(probe, collective, most);
        if (!fails) break;
        const auto kept = [&](double x) { return keeps(probe, fails->first, collective, x, fails->second); };
        end(fails->first, halve(kept, 0, most - disc_step));
    }
    return disc;
}

}  // namespace swashwright::studies
