// What a tenth of a millimetre or half a turn does to the blades.
#include "kinematics/studies/pitch/sensitivity.h"

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    return reply(sensitivity(asked.head, asked.sticks), [&](const Sensitivity& found) {
        return answer(found, static_cast<std::size_t>(asked.values.whole("rows")));
    });
}

}  // namespace

Question sensitivity_question() {
    return {.verb = "sensitivity",
            .help = "Tell what a small change of every length and angle does to the blades",
            .cards = {{.key = "sensitivity",
                       .words = "Which length matters most?",
                       .follows = for_the_sticks,
                       .fields = {{.option = "rows", .start = std::int64_t{0}}}}},
            .options = {{.key = "rows",
                         .kind = OptionKind::whole,
                         .help = "Numbers to list, largest effect first; 0 for all",
                         .most = most_rows,
                         .start = std::int64_t{15}}},
            .sticks = AsksSticks::yes,
            .run = run};
}

}  // namespace swashwright::studies
