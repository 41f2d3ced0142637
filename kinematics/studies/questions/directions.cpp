// Which way servos turn, where to hold the gauge, which phase setting.
#include "kinematics/studies/pitch/directions.h"

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    return reply(directions(asked.head, asked.values.number("lag")),
                 [&](const Directions& found) { return answer(found, asked.head.description()); });
}

}  // namespace

Question directions_question() {
    return {.verb = "directions",
            .help = "First questions at the bench: servo directions, gauge places, phase",
            .cards = {{.key = "directions",
                       .words = "Which way must each servo turn?",
                       .fields = {{.option = "lag", .words = "Disc follows by"}}}},
            .options = {{.key = "lag",
                         .help = "Degrees by which the disc's highest point follows the highest pitch; 90 if not given",
                         .unit = "deg",
                         .low = 0,
                         .high = 180,
                         .start = 90.0}},
            .run = run};
}

}  // namespace swashwright::studies
