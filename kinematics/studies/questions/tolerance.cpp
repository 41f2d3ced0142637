// How far blades come apart when everything is measured and set with usual care.
#include "kinematics/studies/pitch/tolerance.h"

#include <fmt/format.h>

#include <limits>

#include "kinematics/studies/questions/each.h"
#include "kinematics/studies/questions/finite_number.h"

namespace swashwright::studies {
namespace {

constexpr int first_samples[] = {60, 1000};  // of the heads that all looks draw alike
constexpr double most_tolerance = 1000;      // mm or deg; as a scene's error_mm

/// "upper_link[2].length_mm" is meant by itself and by "upper_link.length_mm".
bool names(std::string_view text, const std::string& path) {
    std::string kind;
    bool inside = false;
    for (const char c : path) {
        inside = (inside || c == '[') && c != ']';
        if (!inside && c != ']') kind += c;
    }
    return text == path || text == kind;
}

/// Sets what "upper_link.length_mm=0.05" names; false if that is nothing.
bool set(std::vector<Tolerance>& tolerances, const std::string& text) {
    const NamedNumber wanted = named_number(text, most_tolerance);
    bool found = false;
    for (Tolerance& t : tolerances)
        if (wanted.number && names(wanted.name, t.number.path)) {
            t.plus_minus = *wanted.number;
            found = true;
        }
    return found;
}

Outcome run(const Asked& asked) {
    ToleranceRequest request{.sticks = asked.sticks,
                             .tolerances = usual_tolerances(asked.head.description()),
                             .samples = static_cast<int>(asked.values.whole("samples")),
                             .seed = static_cast<std::uint64_t>(asked.values.whole("seed")),
                             .wanted_split_deg = asked.values.number_if_given("split")};
    for (const std::string& text : asked.values.texts("set"))
        if (!set(request.tolerances, text))
            return badly_asked(
                fmt::format("--set {}: expected a number of the scene and its plus/minus from 0 to {:g}, such as "
                            "upper_link.length_mm=0.05 or grip[1].pitch_arm.lead_mm=0.1",
                            text, most_tolerance));
    const auto rows = static_cast<std::size_t>(asked.values.whole("rows"));
    const auto look = [&](const ToleranceRequest& at, const Going& going) -> Outcome {
        const auto found = tolerance(asked.head, at, going);
        if (!found) return tl::unexpected(NoAnswer{found.error()});
        return Reply{answer(*found, rows)};
    };
    double done = 0;  // of all that is to be done
    for (const int few : first_samples) {
        if (!asked.so_far || 4 * few > request.samples) continue;
        ToleranceRequest part = request;
        part.samples = few;
        const double share = static_cast<double>(few) / request.samples;
        auto first = look(part, asked.going().part(done, done + share));
        if (!first) return first;
        tell_so_far(asked, std::move(*first), fmt::format("{} of {} heads drawn", few, request.samples));
        done += share;
    }
    return look(request, asked.going().part(done, 1));
}

std::vector<Option> options() {
    return {
        {.key = "set",
         .kind = OptionKind::texts,
         .help = "A plus/minus other than the usual: upper_link.length_mm=0.05 (all) or upper_link[1].length_mm=0.05",
         .start = std::vector<std::string>{}},
        {.key = "split",
         .help = "Split in degrees that 95 of 100 heads should keep: tells what to tighten",
         .unit = "deg",
         .low = 0.001,
         .high = 90},
        {.key = "samples",
         .kind = OptionKind::whole,
         .help = "Heads to draw",
         .least = 2,
         .most = 10'000'000,
         .start = std::int64_t{10'000}},
        {.key = "seed",
         .kind = OptionKind::whole,
         .help = "Of the draws",
         .most = std::numeric_limits<std::int64_t>::max(),
         .start = std::int64_t{1}},
        {.key = "rows",
         .kind = OptionKind::whole,
         .help = "Tolerances to list, largest share first; 0 for all",
         .most = most_rows,
         .start = std::int64_t{12}}};
}

}  // namespace

Question tolerance_question() {
    return {.verb = "tolerance",
            .help = "Tell how far pitch and split spread with tolerances, and which matter",
            .cards = {{.key = "tolerance",
                       .words = "How exactly must it be built?",
                       .follows = for_the_sticks,
                       .fields =
                           {{.option = "split", .words = "Split to be held", .start = 0.2, .step = 0.05, .decimals = 2},
                            {.option = "rows", .start = std::int64_t{0}}}}},
            .options = options(),
            .sticks = AsksSticks::yes,
            .takes_long = true,
            .run = run};
}

}  // namespace swashwright::studies
