// Play in pitch from play in the ball links.
#include "kinematics/studies/joints/play.h"

#include "kinematics/studies/questions/each.h"
#include "kinematics/studies/questions/finite_number.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    const PlayOptions options{asked.sticks, asked.values.number_if_given("azimuth"),
                              asked.values.number_if_given("play")};
    return reply(play(asked.head, options), [&](const Play& found) { return answer(found, options); });
}

}  // namespace

Question play_question() {
    return {.verb = "play",
            .help = "Play in pitch from play in the ball links",
            .cards = {{.key = "play", .words = "How much play is there at the blades?", .follows = for_the_sticks}},
            .options = {{.key = "azimuth",
                         .help = "Look at one rotor azimuth only, degrees; the whole turn if not given",
                         .unit = "deg",
                         .low = -most_angle_deg,
                         .high = most_angle_deg},
                        {.key = "play",
                         .help = "Radial play of every ball link in mm, in place of the scene's",
                         .unit = "mm",
                         .low = 0,
                         .high = 10}},
            .sticks = AsksSticks::yes,
            .run = run};
}

}  // namespace swashwright::studies
