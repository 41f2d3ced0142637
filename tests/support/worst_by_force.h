// The least margins of a head's checks by sheer number of poses, to hold against what a study says.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <tuple>
#include <utility>
#include <vector>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/envelope/probe.h"
#include "kinematics/studies/envelope/search.h"
#include "tests/support/random_head.h"

namespace swashwright::testing {

/// A random head that closes over its whole envelope with room to spare.
inline head::Head easy_head(std::uint64_t seed) {
    std::mt19937_64 bits(seed);
    for (;;) {
        auto head = head::Head::build(random_head(bits));
        if (!head || head->neutral_failure()) continue;
        head::Solver solver(*head);
        bool closes = true;
        for (const double c : {-1.0, 1.0})
            for (int d = 0; d < 8 && closes; ++d)
                for (int a = 0; a < 8 && closes; ++a)
                    closes = solver.pose({c, std::sin(d * pi / 4), std::cos(d * pi / 4)}, 45.0 * a);
        if (closes) return *head;
    }
}

/// The same head with another envelope: cyclic stick in a circle or a square, both sticks limited together or not.
inline head::Head with_envelope(const head::Head& head, int kind) {
    using enum head::CyclicStick;
    static constexpr std::array<std::pair<head::CyclicStick, double>, 5> kinds{
        {{circle, 2.0}, {circle, 1.1}, {circle, 0.95}, {square, 2.0}, {square, 1.3}}};
    head::Description d = head.description();
    std::tie(d.mixing.cyclic_stick, d.mixing.combined_limit) = kinds[static_cast<std::size_t>(kind) % kinds.size()];
    return head::Head::build(d).value();
}

struct ForceOptions {
    int poses = 20000;      // drawn evenly over the stick's disc (of a square its polar form), a third on its edge, a
                            // quarter at full collective; of what hands move a third at either end
    std::size_t from = 20;  // the worst of them, from each of which a local search goes on
    std::uint64_t seed = 1;
};

/// Anywhere in the envelope of any head.
inline studies::Place place_drawn(const studies::Envelope& in, Draw& draw, int i) {
    const double even = draw.between(-1, 1), out = i % 3 == 0 ? 1 : std::sqrt(draw.between(0, 1));
    const double most = in.kind == head::Kind::tail ? 1 : std::min(1.0, in.mixing.combined_limit);
    studies::Point at{
        i % 4 == 0 ? std::copysign(most, even) : most * even, 0, draw.between(0, 360), draw.between(0, 360), {}};
    at.cyclic = out * std::max(0.0, studies::most_out(in, at.collective));
    for (const studies::Hand& hand : in.hands) {
        const double share = std::clamp(draw.between(-1, 2), 0.0, 1.0);
        at.hand_deg.push_back(std::lerp(hand.least_deg, hand.most_deg, share));
    }
    return at.place(in);
}

/// Of each check the least margin found, and where.
inline std::vector<studies::Extreme> worst_by_force(const head::Head& head, const studies::Checkers& checkers,
                                                    const studies::Envelope& in, const ForceOptions& options) {
    studies::Probe probe(head, checkers);
    std::mt19937_64 bits(options.seed);
    Draw draw(bits);
    const auto nearer = [](const studies::Extreme& a, const studies::Extreme& b) { return a.margin < b.margin; };
    std::vector<std::vector<studies::Extreme>> worst(probe.size());
    for (int i = 0; i < options.poses; ++i) {
        const studies::Place place = place_drawn(in, draw, i);
        if (!probe.go(place)) continue;
        for (std::size_t k = 0; k < probe.size(); ++k) {
            auto& heap = worst[k];
            const bool full = heap.size() == options.from;
            const double enough = full ? heap.front().margin : std::numeric_limits<double>::infinity();
            const double value = probe.value_below(k, enough).value_or(0), margin = probe.check(k).margin(value);
            if (full && margin >= enough) continue;
            if (full) std::ranges::pop_heap(heap, nearer), heap.pop_back();
            heap.push_back({value, margin, place});
            std::ranges::push_heap(heap, nearer);
        }
    }
    studies::Point steps{0.1, 0.1, 10, 10, {}};
    for (const studies::Hand& hand : in.hands) steps.hand_deg.push_back((hand.most_deg - hand.least_deg) / 8);
    std::vector<studies::Extreme> out;
    for (std::size_t k = 0; k < probe.size(); ++k) {
        studies::Extreme least{0, std::numeric_limits<double>::infinity(), {}};
        for (const studies::Extreme& start : worst[k]) {
            probe.reset();
            const auto found = studies::Search(probe, k, in, false, 14).from(studies::point_of(start.place, in), steps);
            if (found && found->margin < least.margin) least = *found;
        }
        out.push_back(least);
    }
    return out;
}

}  // namespace swashwright::testing
