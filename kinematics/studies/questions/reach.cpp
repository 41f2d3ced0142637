// Does the head stay free over the whole stick envelope?
#include "kinematics/studies/envelope/reach.h"

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome look(const Asked& asked, const ReachRequest& request) {
    auto found = reach(asked.head, request);
    if (!found) return tl::unexpected(NoAnswer{found.error().message});
    Reply out{answer(*found, static_cast<std::size_t>(asked.values.whole("rows")))};
    out.map = std::make_shared<const Envelope>(std::move(found->envelope));
    return out;
}

/// Quick enough to follow a number that is being dragged.
ReachRequest coarse() {
    ReachRequest out{.clearance = false};
    out.sweep.collective_steps = 6;
    out.sweep.directions = 12;
    out.sweep.azimuths = 12;
    out.sweep.refine = false;
    return out;
}

Outcome run(const Asked& asked) {
    if (asked.so_far) {
        ReachRequest first = coarse();
        first.sweep.stop = asked.stop;
        auto reply = look(asked, first);
        if (!reply) return reply;
        tell_so_far(asked, std::move(*reply), "a coarse sweep, what touches left out");
    }
    ReachRequest fine{.clearance = asked.values.flag("clearance")};
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
                       .fields = {{.option = "clearance", .words = "What touches too"}}}},
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
            .run = run};
}

}  // namespace swashwright::studies
