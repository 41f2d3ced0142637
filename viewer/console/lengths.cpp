// `swashwright lengths`: how long the links must be, where the horns must stand.
#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "kinematics/studies/lengths/lengths.h"
#include "viewer/console/numbers.h"
#include "viewer/console/study.h"

namespace swashwright::console {
namespace {

struct Wanted {
    std::vector<std::string> wishes{"level", "zero"}, free{"links"};
    double height_mm = std::numeric_limits<double>::quiet_NaN();  // not given
    double pitch_deg = 0;
    std::vector<double> range_deg;
    double room_mm = 10;
    bool teeth_only = false;
};

void append(std::vector<studies::FreeNumber>& to, const std::vector<studies::FreeNumber>& more) {
    to.insert(to.end(), more.begin(), more.end());
}

/// A group by its name, or one number by its path in the scene file.
tl::expected<std::vector<studies::FreeNumber>, std::string> free_by_name(const head::Description& d,
                                                                         const std::string& name) {
    std::vector<studies::FreeNumber> out;
    if (name == "links") return studies::free_links(d);
    if (name == "neutrals") return studies::free_neutrals(d);
    if (name == "holes") {
        out = studies::free_horns(d);
        if (out.empty())
            return tl::unexpected(std::string("--free holes: no servo of the scene has horn_holes_mm to choose from"));
        return out;
    }
    for (const head::Number& p : head::numbers(d)) {
        using enum head::NumberKind;
        const bool lower = p.kind == lower_length, upper = p.kind == upper_length, other = p.kind == other_length;
        if (p.path == name || (name == "lower" && lower) || (name == "upper" && upper) || (name == "others" && other))
            out.push_back(studies::free_number(d, p));
    }
    if (out.empty())
        return tl::unexpected(fmt::format(
            "--free {}: expected links, lower, upper, others, neutrals, holes, or a number as the scene file "
            "names it, such as grip[1].pitch_arm.lead_mm{}",
            name, name == "lower" || name == "upper" || name == "others" ? "; this head has no such links" : ""));
    return out;
}

Answered study(const head::Head& head, const Wanted& wanted) {
    const head::Description& d = head.description();
    studies::LengthsRequest request;
    const auto wished = [&](const char* name) { return std::ranges::find(wanted.wishes, name) != wanted.wishes.end(); };
    request.wishes = {.level_ring = wished("level"), .zero_pitch = wished("zero"), .square_horns = wished("square")};
    if (wanted.height_mm == wanted.height_mm) request.wishes.height_mm = wanted.height_mm;
    if (wanted.range_deg.size() == 2) request.wishes.range_deg = {wanted.range_deg[0], wanted.range_deg[1]};
    request.wishes.pitch_deg = wanted.pitch_deg;
    request.trim_the_rest = !wanted.teeth_only;
    for (const std::string& name : wanted.free) {
        const auto numbers = free_by_name(d, name);
        if (!numbers) return bad_input(numbers.error());
        append(request.free, *numbers);
    }
    for (studies::FreeNumber& free : request.free) {
        if (!is_length(free.number.kind)) continue;
        const double now = head::value(d, free.number);
        free.least = std::max(1.0, now - wanted.room_mm);
        free.most = now + wanted.room_mm;
    }
    const auto found = studies::link_lengths(d, request);
    if (!found) return tl::unexpected(found.error());
    return studies::answer(*found);
}

}  // namespace

void add_lengths(CLI::App& program, ExitCode& exit_code) {
    const auto wanted = std::make_shared<Wanted>();
    CLI::App* verb = add_study(
        program, exit_code, "lengths", "Find link lengths and horn settings for a level ring and zero pitch",
        [wanted](const scene::Scene&, const head::Head& head) { return study(head, *wanted); }, false);
    verb->add_option("--wish", wanted->wishes, "level, zero, square (horns to their links); with commas between")
        ->delimiter(',')
        ->check(CLI::IsMember({"level", "zero", "square"}))
        ->capture_default_str();
    add_number(*verb, "--height", wanted->height_mm, 0, 1e4,
               "Height of the level ring in mm; the scene's neutral height if not given");
    add_number(*verb, "--pitch", wanted->pitch_deg, -45, 45,
               "Pitch in degrees wanted at mid stick (of a tail: centred rudder) in place of zero");
    verb->add_option_function<std::string>(
            "--range",
            [wanted](const std::string& text) {
                const auto ends = finite_numbers(text, -90, 90);
                if (!ends || ends->size() != 2)
                    throw CLI::ValidationError(
                        "--range", "expected two angles from -90 to 90 with a comma between, found " + text);
                wanted->range_deg = *ends;
            },
            "Mean pitch in degrees wanted at collective (of a tail: rudder) -1 and +1: -11,11")
        ->type_name("DEG,DEG");
    verb->add_option(
            "--free", wanted->free,
            "What may change: links, lower, upper, others, neutrals, holes, or numbers as the scene names them; with "
            "commas between")
        ->delimiter(',')
        ->capture_default_str();
    add_number(*verb, "--room", wanted->room_mm, 0, 1000, "How far a link may get longer or shorter, mm");
    verb->add_flag("--teeth-only", wanted->teeth_only, "Set horns by whole teeth of the spline, without trim");
}

}  // namespace swashwright::console
