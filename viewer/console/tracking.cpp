// `swashwright tracking`: how far are the blades apart, and which links bring them together?
#include "kinematics/studies/pitch/tracking.h"

#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"

namespace swashwright::console {

void add_tracking(CLI::App& program, ExitCode& exit_code) {
    const auto sticks = std::make_shared<head::Sticks>();
    CLI::App* verb =
        add_study(program, exit_code, "tracking",
                  "Print how far the blades are apart in pitch and which links bring them together",
                  [sticks](const scene::Scene&, const head::Head& head) -> tl::expected<studies::Answer, std::string> {
                      const auto tracking = studies::tracking(head, *sticks);
                      if (!tracking) return tl::unexpected(tracking.error().message);
                      return studies::answer(*tracking, head.description());
                  });
    add_stick_options(*verb, *sticks);
}

}  // namespace swashwright::console
