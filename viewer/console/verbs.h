// The verbs of the command line, one file each but for those made from a study's specification (question.h). A verb
// adds itself to the parser and runs when the parser meets it.
#pragma once

#include <CLI/CLI.hpp>

namespace swashwright::console {

/// What the program hands back to the shell: every verb the same for the same reason.
struct ExitCode {
    static constexpr int closes = 0;
    static constexpr int cannot_be_assembled = 1;  // the head does not close, at neutral or where it is asked about
    static constexpr int not_written = 1;          // a file or standard output did not take what was made
    static constexpr int bad_input = 2;            // an argument or a file that cannot be meant

    int value = closes;
};

// Each leaves its result in `exit_code`, which must outlive the parsing.
void add_pose(CLI::App& program, ExitCode& exit_code);
void add_picture(CLI::App& program, ExitCode& exit_code);
void add_turn(CLI::App& program, ExitCode& exit_code);
void add_compare(CLI::App& program, ExitCode& exit_code);
void add_log(CLI::App& program, ExitCode& exit_code);
void add_measured(CLI::App& program, ExitCode& exit_code);
void add_model(CLI::App& program, ExitCode& exit_code);
void add_sheet(CLI::App& program, ExitCode& exit_code);

}  // namespace swashwright::console
