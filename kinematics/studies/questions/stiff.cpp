// What do stiff ball links cost?
#include "kinematics/studies/joints/stiff.h"

#include <fmt/format.h>

#include "kinematics/studies/questions/each.h"
#include "kinematics/studies/questions/finite_number.h"

namespace swashwright::studies {
namespace {

constexpr double most_moment_nmm = 1000;

/// "upper_link[2]=15".
std::optional<OddLink> read_odd(const std::string& text, const head::Model& model) {
    const NamedNumber odd = named_number(text, most_moment_nmm);
    const std::string path(odd.name);
    const auto part = model.find(path);
    if (!part || !odd.number || !head::is_link(model.part(*part).role)) return std::nullopt;
    return OddLink{path, *odd.number};
}

Outcome run(const Asked& asked) {
    FrictionOptions options{.sticks = asked.sticks,
                            .ball_nmm = asked.values.number("ball"),
                            .bearing_nmm = asked.values.number("bearing"),
                            .odd = {},
                            .servo_nmm_per_deg = asked.values.number("servo")};
    for (const std::string& text : asked.values.texts("link")) {
        const auto odd = read_odd(text, asked.head.model());
        if (!odd)
            return badly_asked(fmt::format(
                "--link {}: expected a link of this head and a moment from 0 to {:g} N mm, such as upper_link[2]=15",
                text, most_moment_nmm));
        options.odd.push_back(*odd);
    }
    return reply(friction(asked.head, options),
                 [&](const Friction& found) { return answer(found, asked.head.description()); });
}

Option number(std::string key, double low, double high, double start, std::string help) {
    return {.key = std::move(key),
            .help = std::move(help),
            .unit = "N mm",
            .low = low,
            .high = high,
            .start = start,
            .help_tells_start = true};
}

}  // namespace

Question stiff_question() {
    const FrictionOptions usual;
    return {
        .verb = "stiff",
        .help = "Tell what friction in ball links costs at the horns and at the blades",
        .cards = {{.key = "stiff",
                   .words = "What do stiff ball links cost?",
                   .follows = for_the_sticks,
                   .fields = {{.option = "ball", .words = "Each ball link", .step = 0.5},
                              {.option = "servo", .words = "A servo gives 1 deg under", .step = 10}}}},
        .options = {number("ball", 0, most_moment_nmm, usual.ball_nmm, "Friction moment in each ball link, N mm"),
                    number("bearing", 0, most_moment_nmm, usual.bearing_nmm, "Friction moment in each bearing, N mm"),
                    number("servo", 1, 1e6, usual.servo_nmm_per_deg, "N mm for each degree by which a servo gives way"),
                    {.key = "link",
                     .kind = OptionKind::texts,
                     .help = "A link whose ball links differ from the rest: upper_link[2]=15",
                     .start = std::vector<std::string>{}}},
        .sticks = AsksSticks::yes,
        .run = run};
}

}  // namespace swashwright::studies
