// `swashwright sensitivity`: what a tenth of a millimetre or half a turn does to the blades.
#include "kinematics/studies/pitch/sensitivity.h"

#include "viewer/console/numbers.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"

namespace swashwright::console {

void add_sensitivity(CLI::App& program, ExitCode& exit_code) {
    struct Wanted {
        head::Sticks sticks;
        std::size_t rows = 15;
    };
    const auto wanted = std::make_shared<Wanted>();
    CLI::App* verb = add_study(
        program, exit_code, "sensitivity", "Tell what a small change of every length and angle does to the blades",
        [wanted](const scene::Scene&, const head::Head& head) -> tl::expected<studies::Answer, std::string> {
            const auto found = studies::sensitivity(head, wanted->sticks);
            if (!found) return tl::unexpected(found.error().message);
            return studies::answer(*found, wanted->rows);
        });
    add_stick_options(*verb, wanted->sticks);
    add_count(*verb, "--rows", wanted->rows, 0, most_rows, "Numbers to list, largest effect first; 0 for all");
}

}  // namespace swashwright::console
