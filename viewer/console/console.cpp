#include "viewer/console/console.h"

#include <fmt/format.h>

#include <sstream>
#include <system_error>

#include "viewer/console/numbers.h"
#include "viewer/console/out_file.h"
#include "viewer/console/question.h"
#include "viewer/console/streams.h"
#include "viewer/console/verbs.h"

namespace swashwright::console {

namespace {

int parse_and_run(int argc, const char* const* argv, const std::function<int(const WindowWish&)>& open_window) {
    CLI::App program("Swashwright solves the linkage of a model helicopter's rotor head and shows it live.");
    program.name("swashwright");
    program.set_version_flag("--version", "swashwright " SWASHWRIGHT_VERSION);
    program.require_subcommand(0, 1);
    WindowWish wish;
    program.add_option("SCENE", wish.scene, "Scene file to open in the window")->type_name("FILE");
    program.add_option("--report", wish.report, "For tests: keep writing to FILE what the window shows")
        ->type_name("FILE");
    add_whole(program, "--frames", 1, 1'000'000, "For tests: draw so many frames, tell how fast, and leave",
              [&wish](std::int64_t frames) { wish.frames = frames; });
    ExitCode exit_code;
    add_pose(program, exit_code);
    add_picture(program, exit_code);
    add_model(program, exit_code);
    add_sheet(program, exit_code);
    add_turn(program, exit_code);
    for (const studies::Question& question : studies::all_questions()) add_question(program, exit_code, question);
    add_compare(program, exit_code);
    add_log(program, exit_code);
    add_measured(program, exit_code);
    // Set last, because verbs would take it over.
    program.footer(
        "Without a verb the window opens, with SCENE if one is named.\n"
        "swashwright VERB --help tells more about a verb.");

    try {
        program.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        if (error.get_exit_code() == 0) {  // --help, --version
            std::ostringstream text;
            program.exit(error, text, text);
            put(text.str());
            return ExitCode::closes;
        }
        const auto verbs = program.get_subcommands();
        // A misspelt verb is taken for the window's scene, and what follows it is then too much.
        const std::string reason = verbs.empty() && !wish.scene.empty() &&
                                           error.get_exit_code() == static_cast<int>(CLI::ExitCodes::ExtrasError)
                                       ? fmt::format("{} is no verb, or too much stands behind it", wish.scene)
                                       : error.what();
        complain("swashwright: {}\nTry: swashwright {}--help\n", reason,
                 verbs.empty() ? "" : verbs.front()->get_name() + " ");
        return ExitCode::bad_input;
    }
    if (!program.get_subcommands().empty()) return exit_code.value;
    if (const auto refusal = overwrites(wish.report, {wish.scene})) {
        complain("swashwright: --report: {}\n", *refusal);
        return ExitCode::bad_input;
    }
    return open_window(wish);
}

}  // namespace

int run(int argc, const char* const* argv, const std::function<int(const WindowWish&)>& open_window) {
    open_streams();
    int exit_code = ExitCode::not_written;
    try {
        exit_code = parse_and_run(argc, argv, open_window);
    } catch (const std::system_error& error) {  // by what prints with fmt alone, to a stream that takes nothing
        complain("swashwright: {}\n", error.what());
    }
    return finish_output(exit_code);
}

}  // namespace swashwright::console
