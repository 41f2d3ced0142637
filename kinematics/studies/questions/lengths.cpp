// How long the links must be, where the horns must stand.
#include "kinematics/studies/lengths/lengths.h"

#include <fmt/format.h>

#include <algorithm>

#include "kinematics/studies/questions/each.h"

namespace swashwright::studies {
namespace {

/// A group by its name, or one number by its path in the scene file; or why there is none.
tl::expected<std::vector<FreeNumber>, std::string> free_by_name(const head::Description& d, const std::string& name) {
    std::vector<FreeNumber> out;
    if (name == "links") return free_links(d);
    if (name == "neutrals") return free_neutrals(d);
    if (name == "holes") {
        out = free_horns(d);
        if (out.empty())
            return tl::unexpected(std::string("--free holes: no servo of the scene has horn_holes_mm to choose from"));
        return out;
    }
    for (const head::Number& p : head::numbers(d)) {
        using enum head::NumberKind;
        const bool lower = p.kind == lower_length, upper = p.kind == upper_length, other = p.kind == other_length;
        if (p.path == name || (name == "lower" && lower) || (name == "upper" && upper) || (name == "others" && other))
            out.push_back(free_number(d, p));
    }
    if (out.empty())
        return tl::unexpected(fmt::format(
            "--free {}: expected links, lower, upper, others, neutrals, holes, or a number as the scene file "
            "names it, such as grip[1].pitch_arm.lead_mm{}",
            name, name == "lower" || name == "upper" || name == "others" ? "; this head has no such links" : ""));
    return out;
}

Outcome run(const Asked& asked) {
    const head::Description& now = asked.head.description();
    const Values& values = asked.values;
    LengthsRequest request{.wishes = {.level_ring = values.holds("wish", "level"),
                                      .height_mm = values.number_if_given("height"),
                                      .zero_pitch = values.holds("wish", "zero"),
                                      .pitch_deg = values.number_if_given("pitch"),
                                      .square_horns = values.holds("wish", "square"),
                                      .range_deg = values.two_if_given("range")},
                           .free = {},
                           .trim_the_rest = !values.flag("teeth-only")};
    for (const std::string& name : values.texts("free")) {
        const auto numbers = free_by_name(now, name);
        if (!numbers) return badly_asked(numbers.error());
        request.free.insert(request.free.end(), numbers->begin(), numbers->end());
    }
    for (FreeNumber& free : request.free) {
        if (!is_length(free.number.kind)) continue;
        const double length = head::value(now, free.number), room = values.number("room");
        free.least = std::max(1.0, length - room);
        free.most = length + room;
    }
    const auto found = link_lengths(now, request, asked.going());
    if (!found) return tl::unexpected(NoAnswer{found.error()});
    return Reply{answer(*found), found->set, "Make these settings"};
}

std::vector<Option> options() {
    return {
        {.key = "wish",
         .kind = OptionKind::words,
         .help =
             "level (a tail: slider at its place), zero (a tail: pitch as drawn), square (horns to their links); with "
             "commas between",
         .words = {"level", "zero", "square"},
         .start = std::vector<std::string>{"level", "zero"}},
        {.key = "height",
         .help = "Height of the level ring in mm; the scene's neutral height if not given",
         .unit = "mm",
         .low = 0,
         .high = 1e4},
        {.key = "pitch",
         .help = "Pitch in degrees wanted at mid stick in place of zero; of a tail at centred rudder, in place of that "
                 "as drawn",
         .unit = "deg",
         .low = -45,
         .high = 45},
        {.key = "range",
         .kind = OptionKind::two_angles,
         .help = "Mean pitch in degrees wanted at collective (of a tail: rudder) -1 and +1: -11,11",
         .unit = "deg",
         .low = -90,
         .high = 90},
        {.key = "free",
         .kind = OptionKind::texts,
         .help = "What may change: links, lower, upper, others, neutrals, holes, or numbers as the scene names them; "
                 "with commas between",
         .start = std::vector<std::string>{"links"},
         .commas = true},
        {.key = "room",
         .help = "How far a link may get longer or shorter, mm",
         .unit = "mm",
         .low = 0,
         .high = 1000,
         .start = 10.0},
        {.key = "teeth-only",
         .kind = OptionKind::yes_no,
         .help = "Set horns by whole teeth of the spline, without trim",
         .start = false}};
}

}  // namespace

Question lengths_question() {
    return {.verb = "lengths",
            .help = "Find link lengths and horn settings for a level ring and zero pitch",
            .cards = {{.key = "lengths",
                       .words = "How long must the links be?",
                       .fields = {{.option = "wish",
                                   .each = {{"level", "Level ring"},
                                            {"zero", "Zero pitch"},
                                            // What squares a horn is its neutral.
                                            {"square", "Horns square", "free", "neutrals"}}}}}},
            .options = options(),
            .must_close = false,
            .run = run};
}

}  // namespace swashwright::studies
