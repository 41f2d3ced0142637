// swashwright directions SCENE: which way servos turn, where to hold the gauge, which phase setting.
#include "kinematics/studies/pitch/directions.h"
#include "viewer/console/numbers.h"
#include "viewer/console/study.h"

namespace swashwright::console {

void add_directions(CLI::App& program, ExitCode& exit_code) {
    const auto lag_deg = std::make_shared<double>(90);
    CLI::App* verb = add_study(
        program, exit_code, "directions", "First questions at the bench: servo directions, gauge places, phase",
        [lag_deg](const scene::Scene&, const head::Head& head) -> tl::expected<studies::Answer, std::string> {
            const auto questions = studies::directions(head, *lag_deg);
            if (!questions) return tl::unexpected(questions.error().message);
            return answer(*questions, head.description());
        });
    add_number(*verb, "--lag", *lag_deg, 0, 180,
               "Degrees by which the disc's highest point follows the highest pitch; 90 if not given");
}

}  // namespace swashwright::console
