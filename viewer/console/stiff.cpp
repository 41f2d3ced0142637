// `swashwright stiff`: what do stiff ball links cost?
#include <fmt/format.h>

#include "kinematics/studies/joints/stiff.h"
#include "viewer/console/numbers.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"

namespace swashwright::console {
namespace {

constexpr double most_moment_nmm = 1000;

/// "upper_link[2]=15".
std::optional<studies::OddLink> read_odd(const std::string& text, const head::Model& model) {
    const auto equals = std::min(text.find('='), text.size());
    const auto part = model.find(text.substr(0, equals));
    if (!part || equals == text.size() || !head::is_link(model.part(*part).role)) return std::nullopt;
    const auto moment = finite_number(text.substr(equals + 1));
    if (!moment || *moment < 0 || *moment > most_moment_nmm) return std::nullopt;
    return studies::OddLink{text.substr(0, equals), *moment};
}

}  // namespace

void add_stiff(CLI::App& program, ExitCode& exit_code) {
    struct Wanted {
        studies::FrictionOptions options;
        std::vector<std::string> odd;
    };
    const auto wanted = std::make_shared<Wanted>();
    CLI::App* verb =
        add_study(program, exit_code, "stiff", "Tell what friction in ball links costs at the horns and at the blades",
                  [wanted](const scene::Scene&, const head::Head& head) -> Answered {
                      for (const std::string& text : wanted->odd) {
                          const auto odd = read_odd(text, head.model());
                          if (!odd)
                              return bad_input(
                                  fmt::format("--link {}: expected a link of this head and a moment from 0 to {:g} N "
                                              "mm, such as upper_link[2]=15",
                                              text, most_moment_nmm));
                          wanted->options.odd.push_back(*odd);
                      }
                      const auto found = studies::friction(head, wanted->options);
                      if (!found) return tl::unexpected(found.error().message);
                      return studies::answer(*found, head.description());
                  });
    studies::FrictionOptions& options = wanted->options;
    add_stick_options(*verb, options.sticks);
    const auto add = [&verb](const char* name, double& value, double low, double high, const char* help) {
        add_number(*verb, name, value, low, high, help)->default_str(fmt::format("{}", value));
    };
    add("--ball", options.ball_nmm, 0, most_moment_nmm, "Friction moment in each ball link, N mm");
    add("--bearing", options.bearing_nmm, 0, most_moment_nmm, "Friction moment in each bearing, N mm");
    add("--servo", options.servo_nmm_per_deg, 1, 1e6, "N mm for each degree by which a servo gives way");
    verb->add_option("--link", wanted->odd, "A link whose ball links differ from the rest: upper_link[2]=15");
}

}  // namespace swashwright::console
