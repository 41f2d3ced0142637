// swashwright play SCENE: slop in pitch from play in the ball links.
#include "kinematics/studies/joints/play.h"

#include "viewer/console/numbers.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"

namespace swashwright::console {

void add_play(CLI::App& program, ExitCode& exit_code) {
    struct Options {
        studies::PlayOptions play;
        double azimuth_deg = 0, play_mm = 0;
        CLI::Option *azimuth_option = nullptr, *play_option = nullptr;
    };
    const auto options = std::make_shared<Options>();
    CLI::App* verb =
        add_study(program, exit_code, "play", "Slop in pitch from play in the ball links",
                  [options](const scene::Scene&, const head::Head& head) -> tl::expected<studies::Answer, std::string> {
                      if (options->azimuth_option->count()) options->play.azimuth_deg = options->azimuth_deg;
                      if (options->play_option->count()) options->play.play_mm = options->play_mm;
                      const auto play = studies::play(head, options->play);
                      if (!play) return tl::unexpected(play.error().message);
                      return answer(*play, options->play);
                  });
    add_stick_options(*verb, options->play.sticks);
    options->azimuth_option = add_number(*verb, "--azimuth", options->azimuth_deg, -most_angle_deg, most_angle_deg,
                                         "Look at one rotor azimuth only, degrees; the whole turn if not given");
    options->play_option = add_number(*verb, "--play", options->play_mm, 0, 10,
                                      "Radial play of every ball link in mm, in place of the scene's");
}

}  // namespace swashwright::console
