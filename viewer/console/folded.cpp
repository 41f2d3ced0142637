// swashwright folded SCENE: zero pitch by folded blades, and the heights of a level ring.
#include "kinematics/studies/pitch/folded.h"

#include "viewer/console/numbers.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"

namespace swashwright::console {

void add_folded(CLI::App& program, ExitCode& exit_code) {
    struct Options {
        studies::FoldedOptions folded;
        double seen_mm = 0;
        CLI::Option* seen_option = nullptr;
    };
    const auto options = std::make_shared<Options>();
    CLI::App* verb =
        add_study(program, exit_code, "folded", "Without a gauge: zero pitch by folded blades, heights of a level ring",
                  [options](const scene::Scene&, const head::Head& head) -> Answered {
                      if (options->seen_option->count()) options->folded.seen_mm = options->seen_mm;
                      const auto folded = studies::folded(head, options->folded);
                      if (folded) return answer(*folded, options->folded);
                      // Where the head takes the pose, what is at fault is what was asked, or a size.
                      const bool closes = head.pose(options->folded.sticks, options->folded.azimuth_deg).has_value();
                      return tl::unexpected(Refusal(folded.error().message,
                                                    closes ? ExitCode::bad_input : ExitCode::cannot_be_assembled));
                  });
    studies::FoldedOptions& folded = options->folded;
    add_stick_options(*verb, folded.sticks);
    add_number(*verb, "--azimuth", folded.azimuth_deg, -most_angle_deg, most_angle_deg,
               "Rotor azimuth of blade 1 in degrees, 0 over the tail");
    add_number(*verb, "--fold", folded.fold_deg, 0.1, 90, "Degrees by which both blades are swung; 90 if not given");
    options->seen_option = add_number(*verb, "--seen", options->seen_mm, -1000, 1000,
                                      "Height that you saw: tip of blade 1 above the other, mm");
}

}  // namespace swashwright::console
