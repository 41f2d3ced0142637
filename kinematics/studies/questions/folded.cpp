// Zero pitch by folded blades, and the heights of a level ring.
#include "kinematics/studies/pitch/folded.h"

#include "kinematics/studies/questions/each.h"
#include "kinematics/studies/questions/finite_number.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    const FoldedOptions options{asked.sticks, asked.values.number("azimuth"), asked.values.number("fold"),
                                asked.values.number_if_given("seen")};
    const auto found = folded(asked.head, options);
    if (found) return Reply{answer(*found, options)};
    // Where the head takes the pose, what is at fault is what was asked, or a size.
    const bool closes = asked.head.pose(options.sticks, options.azimuth_deg).has_value();
    return tl::unexpected(NoAnswer{found.error().message, closes});
}

std::vector<Option> options() {
    return {{.key = "azimuth",
             .help = "Rotor azimuth of blade 1 in degrees, 0 over the tail",
             .unit = "deg",
             .low = -most_angle_deg,
             .high = most_angle_deg,
             .start = 0.0},
            {.key = "fold",
             .help = "Degrees by which both blades are swung, to the side where blade 1 leads; 90 if not given",
             .unit = "deg",
             .low = 0.1,
             .high = 90,
             .start = 90.0},
            {.key = "seen",
             .help = "Height that you saw: tip of blade 1 above the other, mm",
             .unit = "mm",
             .low = -1000,
             .high = 1000}};
}

}  // namespace

Question folded_question() {
    return {.verb = "folded",
            .help = "Without a gauge: zero pitch by folded blades, heights of a level ring",
            .cards = {{.key = "folded",
                       .words = "What do folded blades show?",
                       .follows = "At the sticks' present place, blade 1 over the tail; both go to where it leads.",
                       .fields = {{.option = "fold", .words = "Blades swung by", .step = 5},
                                  {.option = "seen",
                                   .words = "Tip of blade 1 above the other",
                                   .given_words = "I saw a difference"}}}},
            .options = options(),
            .sticks = AsksSticks::yes,
            .run = run};
}

}  // namespace swashwright::studies
