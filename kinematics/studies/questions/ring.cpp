// How high a level ring stands for a calliper, and what heights that were read say.
#include "kinematics/studies/pitch/ring.h"

#include <fmt/format.h>

#include "kinematics/studies/questions/each.h"
#include "kinematics/studies/questions/finite_number.h"

namespace swashwright::studies {
namespace {

constexpr double most_height_mm = 1e4;

struct Way {
    const char* option;
    ReadAt at;
};
constexpr Way ways[]{{"seen", ReadAt::ball_tops}, {"seen-face", ReadAt::face}, {"seen-outer", ReadAt::outer_ball}};

/// Heights as they were typed, "-" where none was read; or why they are none.
tl::expected<std::vector<std::optional<double>>, std::string> heights_of(const std::vector<std::string>& typed) {
    std::vector<std::optional<double>> out;
    for (const std::string& text : typed) {
        const auto number = finite_number(text);
        if (text != "-" && (!number || std::abs(*number) > most_height_mm))
            return tl::unexpected(
                fmt::format("expected heights in mm with commas between, as 51.2,51.0,51.4, and - "
                            "where none was read; found \"{}\"",
                            text));
        out.push_back(number);
    }
    return out;
}

Outcome run(const Asked& asked) {
    RingRequest request{.sticks = asked.sticks, .lean_deg = asked.values.number("lean")};
    request.doubt_mm = asked.values.number("doubt");
    for (const Way& way : ways) {
        const auto& typed = asked.values.texts(way.option);
        if (typed.empty()) continue;
        if (!request.seen_mm.empty())
            return badly_asked("give heights of one kind only: seen, seen-face or seen-outer");
        auto heights = heights_of(typed);
        if (!heights) return badly_asked(fmt::format("--{}: {}", way.option, heights.error()));
        request.read_at = way.at;
        request.seen_mm = std::move(*heights);
    }
    const auto found = ring(asked.head, request);
    if (found) return Reply{answer(*found, request)};
    // Where the head has an answer without the heights, they are at fault.
    RingRequest plain = request;
    plain.seen_mm.clear();
    return tl::unexpected(NoAnswer{found.error().message, !request.seen_mm.empty() && ring(asked.head, plain)});
}

std::vector<Option> options() {
    const auto heights = [](const char* key, const char* help) {
        return Option{.key = key,
                      .kind = OptionKind::texts,
                      .help = help,
                      .unit = "mm",
                      .start = std::vector<std::string>{},
                      .commas = true};
    };
    return {heights("seen",
                    "Heights read at the tops of the inner balls, mm above the scene's face, one a ball in their "
                    "order, - where none was read: 51.2,51.0,51.4"),
            heights("seen-face", "The same read at the ring's lower face, beneath each inner ball"),
            heights("seen-outer", "The same at the top of outer ball 1, the rotor turned until it is over each"),
            {.key = "doubt",
             .help = "How well one height is read, mm, one standard deviation",
             .unit = "mm",
             .low = 0.01,
             .high = 5,
             .start = 0.1,
             .help_tells_start = true},
            {.key = "lean",
             .help = "Degrees of lean whose signs are told",
             .unit = "deg",
             .low = 0.01,
             .high = 10,
             .start = 1.0,
             .help_tells_start = true}};
}

}  // namespace

Question ring_question() {
    return {.verb = "ring",
            .help = "Is the ring level: heights for a calliper, checks by turning, which link to turn",
            .cards = {{.key = "ring",
                       .words = "Is the ring level?",
                       .follows = too_for_the_sticks,
                       .fields = {{.option = "seen", .words = "Top of each inner ball, 1 first, mm"},
                                  {.option = "seen-face", .words = "Or lower face under each, 1 first, mm"},
                                  {.option = "seen-outer", .words = "Or outer ball 1 over each, 1 first, mm"},
                                  {.option = "doubt", .words = "Each read within", .step = 0.05, .decimals = 2}}}},
            .options = options(),
            .sticks = AsksSticks::one_more,
            .run = run};
}

}  // namespace swashwright::studies
