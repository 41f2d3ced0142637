// A level ring, by heights that are read and lower links that are turned.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/bench/bench_stages.h"
#include "kinematics/studies/pitch/ring_seen.h"

namespace swashwright::studies {
namespace {

using head::Head;
using head::Result;
using head::Role;

// Common practice, no source.
constexpr double slip_mm = 8;  // a reading farther off is one of another place, or a slip of the pen

}  // namespace

Result<void> BenchStages::level() {
    const std::string stage = "Level ring";
    const auto open = ring(head_);
    const auto level = levelled(head_);
    if (!open || !level || !open->tilts) {
        add({.stage = stage,
             .say = "Sticks centred: the ring stands level, all the way round.",
             .more = !level ? "Which links to turn cannot be told of this head: " + level.error().message + "."
                            : "Set the links by the build sheet.",
             .tool = BenchTool::calliper,
             .part = "inner_ring"});
        return {};
    }
    const auto& balls = open->places.front().balls;
    for (int round = 1; round <= most_bench_rounds; ++round) {
        BenchRound now;
        for (std::size_t j = 0; j < balls.size(); ++j) now.typed.push_back(ask(height(stage, *open, j, round)));
        if (now.none() && round > 1) return {};
        RingRequest request;
        for (std::size_t j = 0; j < balls.size(); ++j)
            request.seen_mm.push_back(now.none() ? balls[j].top_mm : now.typed[j]);
        const auto seen = seen_ring(head_, request);
        if (!seen) {
            add({.stage = stage,
                 .say = "These heights tell nothing yet: read three at least.",
                 .more = seen.error().message + ".",
                 .tool = BenchTool::calliper,
                 .part = "inner_ring"});
            return {};
        }
        stand_ = now.none() ? after(*seen) : *level;
        if (std::ranges::none_of(seen->turns, [](const LinkTurn& t) { return t.steps != 0; })) {
            add({.stage = stage,
                 .say = now.none() ? "By the open head's numbers the ring is level." : "The ring is level.",
                 .more =
                     fmt::format("{}As near as the links can be set: {:.2f} deg and {:.2f} mm from it.{}",
                                 now.none() ? "Nothing was measured. " : "", seen->tilt_deg, std::abs(seen->height_mm),
                                 now.none() ? " Only heights that you read and type tell of your model." : ""),
                 .part = "inner_ring"});
            return {};
        }
        for (std::size_t j = 0; j < seen->turns.size(); ++j)
            if (const LinkTurn& t = seen->turns[j]; t.steps != 0)
                turn(stage, {Role::lower_link, static_cast<int>(j)}, t.steps, t.change_mm, !now.none());
        if (now.none()) return {};
    }
    other_cause(stage, "The ring will not come level by its links.", "inner_ring");
    return {};
}

BenchStep BenchStages::height(const std::string& stage, const Ring& open, std::size_t j, int round) const {
    const RingBall& ball = open.places.front().balls[j];
    return {.stage = stage,
            .say = fmt::format("{}ead {}: the top of the ball above {}.", round == 1 ? "R" : "Once more: r", ball.words,
                               open.face),
            .more = fmt::format("Sticks centred. Level: {:.2f} mm. On the head as it is open: {:.2f} mm.",
                                ball.level_top_mm, ball.top_mm),
            .tool = BenchTool::calliper,
            .part = "inner_ring",
            .reading = BenchReading{fmt::format("height {}, round {}", j + 1, round), "height of " + ball.words, "mm",
                                    ball.level_top_mm, ball.top_mm, slip_mm}};
}

/// The head with links turned as the ring asks.
Head BenchStages::after(const SeenRing& seen) const {
    head::Description set = head_.description();
    for (std::size_t j = 0; j < seen.turns.size(); ++j) set.lower_links[j].length_mm += seen.turns[j].change_mm;
    return Head::build(set).value_or(head_);
}

}  // namespace swashwright::studies
