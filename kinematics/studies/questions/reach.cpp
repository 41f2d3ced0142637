// Does the head stay free over the whole stick envelope?
#include "kinematics/studies/envelope/reach.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Reply told(const Asked& asked, Reach found) {
    Reply out{answer(found, static_cast<std::size_t>(asked.values.whole("rows")))};
    out.map = std::make_shared<const Envelope>(std::move(found.envelope));
    return out;
}

Outcome look(const Asked& asked, const ReachRequest& request) {
    auto found = reach(asked.head, request);
    if (!found) return tl::unexpected(NoAnswer{found.error().message});
    return told(asked, std::move(*found));
}

/// Quick enough to follow a number that is being dragged: the first takes 5 ms on a plain head, 0.1 s on the heaviest.
ReachRequest coarse(int collective_steps, int cyclic_steps, int directions, int azimuths) {
    ReachRequest out{.clearance = false};
    out.sweep.collective_steps = collective_steps;
    out.sweep.cyclic_steps = cyclic_steps;
    out.sweep.directions = directions;
    out.sweep.azimuths = azimuths;
    out.sweep.refine = false;
    return out;
}

Outcome run(const Asked& asked) {
    ReachRequest fine{.clearance = asked.values.flag("clearance")};
    if (asked.so_far) {
        for (ReachRequest first : std::array{coarse(4, 3, 8, 8), coarse(8, 4, 12, 18)}) {
            first.sweep.stop = asked.stop;
            auto reply = look(asked, first);
            if (!reply) return reply;
            const std::size_t places = reply->map->poses;
            tell_so_far(asked, std::move(*reply),
                        fmt::format("{} places{}", places, fine.clearance ? ", what touches left out" : ""));
        }
        fine.sweep.so_far = [&](const Envelope& now) {
            const int percent = asked.percent ? asked.percent->load() : 0;
            const bool bounded =
                std::ranges::any_of(now.worst, [](const Extreme& worst) { return std::isfinite(worst.within); });
            tell_so_far(asked, told(asked, {now, {}, {}, bounded}), fmt::format("{} % of the work", percent));
        };
    }
    fine.sweep.stop = asked.stop;
    fine.sweep.percent = asked.percent;
    return look(asked, fine);
}

}  // namespace

Question reach_question() {
    return {.verb = "reach",
            .help = "Tell what binds or touches anywhere in the stick envelope, and where",
            .cards = {{.key = "reach",
                       .words = "Does it bind or touch anywhere?",
                       .fields = {{.option = "clearance", .words = "Look for parts that touch"}}}},
            .options = {{.key = "clearance",
                         .kind = OptionKind::yes_no,
                         .help = "Leave out what may touch: much faster",
                         .start = true},
                        {.key = "rows",
                         .kind = OptionKind::whole,
                         .help = "Checks to list, nearest to their bounds first; 0 for all",
                         .most = most_rows,
                         .start = std::int64_t{12}}},
            .sweeps_hands = true,
            .takes_long = true,
            .run = run};
}

}  // namespace swashwright::studies
