#include "viewer/console/pose_options.h"

#include <fmt/format.h>

#include <limits>

#include "viewer/console/numbers.h"

namespace swashwright::console {

void add_stick_options(CLI::App& verb, head::Sticks& sticks) {
    add_number(verb, "--collective", sticks.collective, -1, 1, "Stick, -1 to 1, up positive");
    add_number(verb, "--aileron", sticks.aileron, -1, 1, "Stick, -1 to 1, right positive");
    add_number(verb, "--elevator", sticks.elevator, -1, 1, "Stick, -1 to 1, forward positive");
}

void add_pose_options(CLI::App& verb, PoseOptions& options) {
    const auto add_stick = [&](const char* name, double& value, const char* help) {
        add_number(verb, name, value, -1, 1, help)->each([&options](const std::string&) {
            options.sticks_given = true;
        });
    };
    add_stick("--collective", options.sticks.collective, "Stick, -1 to 1, up positive");
    add_stick("--aileron", options.sticks.aileron, "Stick, -1 to 1, right positive");
    add_stick("--elevator", options.sticks.elevator, "Stick, -1 to 1, forward positive");
    constexpr double endless = std::numeric_limits<double>::infinity();
    add_number(verb, "--azimuth", options.azimuth_deg, -endless, endless,
               "Rotor azimuth of blade 1 in degrees, 0 over the tail, growing in the direction of rotation");
    verb.add_option_function<std::string>(
            "--horns",
            [&options](const std::string& text) {
                const auto angles = finite_numbers(text);
                if (!angles)
                    throw CLI::ValidationError("--horns", "expected finite angles with commas between, found " + text);
                options.horns_deg = *angles;
            },
            "Horn angles in degrees, one for each servo, in place of the sticks: -5,3,2")
        ->type_name("DEG,DEG,DEG");
}

std::string horns_mistake(const PoseOptions& options, std::size_t servos) {
    if (options.horns_deg.empty() || options.horns_deg.size() == servos) return {};
    return fmt::format("--horns: expected {} angles, one for each servo, found {}", servos, options.horns_deg.size());
}

}  // namespace swashwright::console
