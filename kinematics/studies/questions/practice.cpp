// A fault to be found, for practice. No card: the window has a place of its own for it.
#include "kinematics/studies/questions/practice_places.h"

#include "kinematics/studies/diagnosis/practice_play.h"
#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

Outcome run(const Asked& asked) {
    const auto& named = asked.values.texts("name");
    const bool given_up = asked.values.flag("give-up");
    if (named.size() > 1 || (given_up && !named.empty()))
        return badly_asked("Name one part, or give up with none named.");
    Readings places;
    for (const std::string& text : asked.values.texts("read"))
        if (auto added = add_place(places, text); !added) return badly_asked(added.error());
    places.gauge = practice_gauge();
    const auto hidden = hide_fault(asked.head, static_cast<std::uint64_t>(asked.values.whole("number")));
    if (!hidden) return tl::unexpected(NoAnswer{hidden.error().message});
    if (!named.empty() || given_up) {
        const auto score = practice_score(*hidden, places, named.empty() ? "" : named.front(), asked.stop);
        return reply(score, [&](const PracticeScore& s) { return answer(s, *hidden); });
    }
    if (places.size() == 0) return Reply{practice_readings(*hidden, places, places)};
    const auto read = read_hidden(*hidden, places), sound = read_described(*hidden, places);
    if (!read || !sound) return tl::unexpected(NoAnswer{(read ? sound : read).error().message});
    return Reply{practice_readings(*hidden, *read, *sound)};
}

}  // namespace

Question practice_question() {
    return {.verb = "practice",
            .help = "Hide a fault in the head: print what a gauge reads of it, and what to think of the part you name",
            .cards = {},
            .options = {{.key = "number",
                         .kind = OptionKind::whole,
                         .help = "Which fault: the same number hides the same one in the same head",
                         .least = 1,
                         .most = most_faults,
                         .start = std::int64_t{1}},
                        {.key = "read",
                         .kind = OptionKind::texts,
                         .help = "Where, once for each reading: blade=2,azimuth=90,collective=1 or ball=1,collective=1",
                         .start = std::vector<std::string>{}},
                        {.key = "name",
                         .kind = OptionKind::texts,
                         .help = "The part at fault, as the table of parts calls it: upper_link[2]",
                         .start = std::vector<std::string>{}},
                        {.key = "give-up", .kind = OptionKind::yes_no, .help = "Tell what it is", .start = false}},
            .run = run};
}

}  // namespace swashwright::studies
