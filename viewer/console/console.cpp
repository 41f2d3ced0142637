#include "viewer/console/console.h"

#include <fmt/format.h>

#include "viewer/console/verbs.h"

namespace swashwright::console {

int run(int argc, const char* const* argv, const std::function<int(const WindowWish&)>& open_window) {
    CLI::App program("Swashwright solves the linkage of a model helicopter's rotor head and shows it live.");
    program.name("swashwright");
    program.set_version_flag("--version", "swashwright " SWASHWRIGHT_VERSION);
    program.require_subcommand(0, 1);
    WindowWish wish;
    program.add_option("SCENE", wish.scene, "Scene file to open in the window")->type_name("FILE");
    program.add_option("--report", wish.report, "For tests: keep writing to FILE what the window shows")
        ->type_name("FILE");
    program.add_option("--frames", wish.frames, "For tests: draw so many frames, tell how fast, and leave")
        ->check(CLI::Range(1L, 1'000'000L))
        ->type_name("NUMBER");
    ExitCode exit_code;
    add_pose(program, exit_code);
    add_picture(program, exit_code);
    add_model(program, exit_code);
    add_sheet(program, exit_code);
    add_turn(program, exit_code);
    add_range(program, exit_code);
    add_directions(program, exit_code);
    add_reach(program, exit_code);
    add_stiff(program, exit_code);
    add_play(program, exit_code);
    add_folded(program, exit_code);
    add_diagnose(program, exit_code);
    add_tracking(program, exit_code);
    add_compare(program, exit_code);
    add_lengths(program, exit_code);
    add_sensitivity(program, exit_code);
    add_tolerance(program, exit_code);
    add_measured(program, exit_code);
    // Set last, because verbs would take it over.
    program.footer(
        "Without a verb the window opens, with SCENE if one is named.\n"
        "swashwright VERB --help tells more about a verb.");

    try {
        program.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        if (error.get_exit_code() == 0) return program.exit(error);  // --help, --version
        const auto verbs = program.get_subcommands();
        // A misspelt verb is taken for the window's scene, and what follows it is then too much.
        const std::string reason = verbs.empty() && !wish.scene.empty() &&
                                           error.get_exit_code() == static_cast<int>(CLI::ExitCodes::ExtrasError)
                                       ? fmt::format("{} is no verb, or too much stands behind it", wish.scene)
                                       : error.what();
        fmt::print(stderr, "swashwright: {}\nTry: swashwright {}--help\n", reason,
                   verbs.empty() ? "" : verbs.front()->get_name() + " ");
        return ExitCode::bad_input;
    }
    return program.get_subcommands().empty() ? open_window(wish) : exit_code.value;
}

}  // namespace swashwright::console
