// How far the blades go with the sticks, and the horn travel for wanted ends.
#include "kinematics/studies/pitch/range.h"

#include "kinematics/studies/pitch/wanted_range.h"
#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome gains(const head::Head& head, const WantedRange& wanted) {
    const auto found = horn_gains(head, wanted);
    if (!found) return tl::unexpected(NoAnswer{found.error().message});
    head::Description next = head.description();
    next.mixing.collective_deg = found->collective_deg;
    next.mixing.cyclic_deg = found->cyclic_deg;
    return Reply{answer(*found, head.description()), std::move(next), "Use this horn travel"};
}

Outcome run(const Asked& asked) {
    const auto collective = asked.values.number_if_given("want-collective"),
               cyclic = asked.values.number_if_given("want-cyclic");
    if (collective && cyclic) return gains(asked.head, {*collective, *cyclic});
    return reply(pitch_range(asked.head, asked.sticks, asked.going()),
                 [&](const PitchRange& found) { return answer(found, asked.head.description()); });
}

}  // namespace

Question range_question() {
    return {
        .verb = "range",
        .help = "Pitch over the sticks' range, or horn travel for wanted ends",
        .cards = {{.key = "range", .words = "How far does the pitch go?", .follows = too_for_the_sticks},
                  {.key = "gains",
                   .words = "Which horn travel gives the range I want?",
                   .fields = {{.option = "want-collective", .words = "Collective \xC2\xB1", .start = 10.0, .step = 0.5},
                              {.option = "want-cyclic", .words = "Cyclic \xC2\xB1", .start = 6.0, .step = 0.5}}}},
        .options = {{.key = "want-collective",
                     .help = "Find the horn travel for so many degrees of collective up and down",
                     .unit = "deg",
                     .low = -45,
                     .high = 45,
                     .needs = "want-cyclic"},
                    {.key = "want-cyclic",
                     .help = "Find the horn travel for so many degrees of cyclic to either side",
                     .unit = "deg",
                     .low = 0,
                     .high = 45,
                     .needs = "want-collective"}},
        .sticks = AsksSticks::one_more,
        .run = run};
}

}  // namespace swashwright::studies
