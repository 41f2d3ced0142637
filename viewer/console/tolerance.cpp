// `swashwright tolerance`: how far blades come apart when everything is measured and set with usual care.
#include "kinematics/studies/pitch/tolerance.h"

#include <fmt/format.h>

#include <cstdint>
#include <limits>

#include "viewer/console/numbers.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"

namespace swashwright::console {
namespace {

constexpr double most_tolerance = 1000;  // mm or deg; as a scene's error_mm

struct Wanted {
    head::Sticks sticks;
    std::vector<std::string> set;  // "upper_link[1].length_mm=0.05"; without [n]: all of the kind
    double split_deg = 0;
    CLI::Option* split = nullptr;
    int samples = 10'000;
    std::uint64_t seed = 1;
    std::size_t rows = 12;
};

/// "upper_link[2].length_mm" is meant by itself and by "upper_link.length_mm".
bool names(const std::string& text, const std::string& path) {
    std::string kind;
    bool inside = false;
    for (const char c : path) {
        inside = (inside || c == '[') && c != ']';
        if (!inside && c != ']') kind += c;
    }
    return text == path || text == kind;
}

Answered study(const head::Head& head, const Wanted& wanted) {
    studies::ToleranceRequest request{.sticks = wanted.sticks,
                                      .tolerances = studies::usual_tolerances(head.description()),
                                      .samples = wanted.samples,
                                      .seed = wanted.seed};
    if (wanted.split->count() > 0) request.wanted_split_deg = wanted.split_deg;
    for (const std::string& text : wanted.set) {
        const auto equals = text.find('=');
        const auto size = equals == std::string::npos ? std::nullopt : finite_number(text.substr(equals + 1));
        bool found = false;
        for (studies::Tolerance& t : request.tolerances)
            if (size && *size >= 0 && *size <= most_tolerance && names(text.substr(0, equals), t.number.path)) {
                t.plus_minus = *size;
                found = true;
            }
        if (!found)
            return bad_input(
                fmt::format("--set {}: expected a number of the scene and its plus/minus from 0 to {:g}, such as "
                            "upper_link.length_mm=0.05 or grip[1].pitch_arm.lead_mm=0.1",
                            text, most_tolerance));
    }
    const auto found = studies::tolerance(head, request);
    if (!found) return tl::unexpected(found.error());
    return studies::answer(*found, wanted.rows);
}

}  // namespace

void add_tolerance(CLI::App& program, ExitCode& exit_code) {
    const auto wanted = std::make_shared<Wanted>();
    CLI::App* verb = add_study(program, exit_code, "tolerance",
                               "Tell how far pitch and split spread with tolerances, and which matter",
                               [wanted](const scene::Scene&, const head::Head& head) { return study(head, *wanted); });
    add_stick_options(*verb, wanted->sticks);
    verb->add_option(
        "--set", wanted->set,
        "A plus/minus other than the usual: upper_link.length_mm=0.05 (all) or upper_link[1].length_mm=0.05");
    wanted->split = add_number(*verb, "--split", wanted->split_deg, 0.001, 90,
                               "Split in degrees that 95 of 100 heads should keep: tells what to tighten");
    add_count(*verb, "--samples", wanted->samples, 2, 10'000'000, "Heads to draw");
    add_count(*verb, "--seed", wanted->seed, 0, std::numeric_limits<std::int64_t>::max(), "Of the draws");
    add_count(*verb, "--rows", wanted->rows, 0, most_rows, "Tolerances to list, largest share first; 0 for all");
}

}  // namespace swashwright::console
