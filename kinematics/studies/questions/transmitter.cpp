// How the transmitter is set.
#include "kinematics/studies/pitch/transmitter.h"

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    return reply(transmitter(asked.head, asked.values.number("full-us"), asked.going()),
                 [&](const Transmitter& found) { return answer(found, asked.head.description()); });
}

}  // namespace

Question transmitter_question() {
    return {.verb = "transmitter",
            .help = "Set the transmitter: mix, servo order and senses, travel in percent, what to zero first",
            .cards = {{.key = "transmitter",
                       .words = "How is the transmitter set?",
                       .fields = {{.option = "full-us", .words = "A channel at 100 % is \xC2\xB1", .step = 10}}}},
            .options = {{.key = "full-us",
                         .help = "By how many microseconds a channel at 100 % changes its pulse",
                         .unit = "µs",
                         .low = 50,
                         .high = 2000,
                         .start = 500.0,
                         .help_tells_start = true}},
            .run = run};
}

}  // namespace swashwright::studies
