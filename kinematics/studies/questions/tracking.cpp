// How far the blades are apart, and which links bring them together.
#include "kinematics/studies/pitch/tracking.h"

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    const auto found = tracking(asked.head, asked.sticks);
    if (!found) return tl::unexpected(NoAnswer{found.error().message});
    Reply out{.answer = answer(*found, asked.head.description()), .proposal_words = "Turn the links so"};
    head::Description next = asked.head.description();
    bool any = false;
    for (std::size_t k = 0; k < found->settings.size(); ++k) {
        next.upper_links[k].length_mm += found->settings[k].change_mm;
        any = any || found->settings[k].steps != 0;
    }
    if (any) out.proposal = std::move(next);
    return out;
}

}  // namespace

Question tracking_question() {
    return {.verb = "tracking",
            .help = "Print how far the blades are apart in pitch and which links bring them together",
            .cards = {{.key = "tracking", .words = "Are the blades in track?", .follows = for_the_sticks}},
            .sticks = AsksSticks::yes,
            .run = run};
}

}  // namespace swashwright::studies
