// swashwright range SCENE: how far the blades go with the sticks, and the horn travel for wanted ends.
#include <optional>

#include "kinematics/studies/pitch/range.h"
#include "kinematics/studies/pitch/wanted_range.h"
#include "viewer/console/numbers.h"
#include "viewer/console/study.h"

namespace swashwright::console {
namespace {

struct Options {
    head::Sticks sticks;
    studies::WantedRange wanted;
    CLI::Option *collective = nullptr, *cyclic = nullptr;
};

tl::expected<studies::Answer, std::string> study(const Options& options, const head::Head& head) {
    if (options.collective->count() + options.cyclic->count() > 0) {
        const auto gains = studies::horn_gains(head, options.wanted);
        if (!gains) return tl::unexpected(gains.error().message);
        return answer(*gains, head.description());
    }
    const auto range = studies::pitch_range(head, options.sticks);
    if (!range) return tl::unexpected(range.error().message);
    return answer(*range, head.description());
}

}  // namespace

void add_range(CLI::App& program, ExitCode& exit_code) {
    const auto options = std::make_shared<Options>();
    CLI::App* verb =
        add_study(program, exit_code, "range", "Pitch over the sticks' range, or horn travel for wanted ends",
                  [options](const scene::Scene&, const head::Head& head) { return study(*options, head); });
    add_number(*verb, "--collective", options->sticks.collective, -1, 1,
               "One more stick position to look at, up positive");
    add_number(*verb, "--aileron", options->sticks.aileron, -1, 1, "The same, right positive");
    add_number(*verb, "--elevator", options->sticks.elevator, -1, 1, "The same, forward positive");
    add_number(*verb, "--rudder", options->sticks.rudder, -1, 1, "The same of a tail, right positive");
    options->collective = add_number(*verb, "--want-collective", options->wanted.collective_deg, -45, 45,
                                     "Find the horn travel for so many degrees of collective up and down");
    options->cyclic = add_number(*verb, "--want-cyclic", options->wanted.cyclic_deg, 0, 45,
                                 "Find the horn travel for so many degrees of cyclic to either side");
    options->collective->needs(options->cyclic);
    options->cyclic->needs(options->collective);
}

}  // namespace swashwright::console
