// Do the servos fight each other?
#include "kinematics/studies/joints/fight.h"

#include <fmt/format.h>

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    FightOptions options;
    options.give.servo_nmm_per_deg = asked.values.number("servo");
    options.give.link_n_per_mm = asked.values.number_if_given("link");
    const auto told = [&](const Fight& found) { return answer(found, asked.head); };
    constexpr double first_share = 0.02;
    if (asked.so_far) {
        FightOptions few = options;
        few.grid = coarse_fight;
        const auto first = fight(asked.head, few, asked.going().part(0, first_share));
        if (first && !first->fighters.empty())
            tell_so_far(asked, Reply{told(*first)}, fmt::format("{} places of the sticks", first->places));
    }
    return reply(fight(asked.head, options, asked.going().part(asked.so_far ? first_share : 0, 1)), told);
}

}  // namespace

Question fight_question() {
    return {.verb = "fight",
            .help = "Do the servos fight each other? Misfit of what is held too often, and its remedy",
            .cards = {{.key = "fight",
                       .words = "Do the servos fight each other?",
                       .fields = {{.option = "servo", .words = "A servo gives 1 deg under", .step = 10},
                                  {.option = "link",
                                   .words = "A link gives way 1 mm under",
                                   .step = 10,
                                   .given_words = "Links give way too",
                                   .when_given = 200}}}},  // a guess
            .options = {{.key = "servo",
                         .help = "N mm for each degree by which a servo gives way",
                         .unit = "N mm",
                         .low = 1,
                         .high = 1e6,
                         .start = FightOptions{}.give.servo_nmm_per_deg,
                         .help_tells_start = true},
                        {.key = "link",
                         .help = "N for each mm by which a link gives way along itself; rigid if not given",
                         .unit = "N",
                         .low = 1,
                         .high = 1e6}},
            .takes_long = true,
            .run = run};
}

}  // namespace swashwright::studies
