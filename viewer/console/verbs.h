// The verbs of the command line, one file each. A verb adds itself to the parser and runs when the parser meets it.
#pragma once

#include <CLI/CLI.hpp>

namespace swashwright::console {

/// What the program hands back to the shell.
struct ExitCode {
    static constexpr int closes = 0;
    static constexpr int cannot_be_assembled = 1;  // at the pose that was asked for
    static constexpr int bad_input = 2;            // bad usage or a bad scene file

    int value = closes;
};

// Each leaves its result in `exit_code`, which must outlive the parsing.
void add_pose(CLI::App& program, ExitCode& exit_code);
void add_picture(CLI::App& program, ExitCode& exit_code);
void add_turn(CLI::App& program, ExitCode& exit_code);
void add_range(CLI::App& program, ExitCode& exit_code);
void add_directions(CLI::App& program, ExitCode& exit_code);
void add_stiff(CLI::App& program, ExitCode& exit_code);
void add_reach(CLI::App& program, ExitCode& exit_code);
void add_play(CLI::App& program, ExitCode& exit_code);
void add_folded(CLI::App& program, ExitCode& exit_code);
void add_diagnose(CLI::App& program, ExitCode& exit_code);
void add_tracking(CLI::App& program, ExitCode& exit_code);
void add_lengths(CLI::App& program, ExitCode& exit_code);
void add_sensitivity(CLI::App& program, ExitCode& exit_code);
void add_tolerance(CLI::App& program, ExitCode& exit_code);
void add_compare(CLI::App& program, ExitCode& exit_code);
void add_measured(CLI::App& program, ExitCode& exit_code);
void add_model(CLI::App& program, ExitCode& exit_code);
void add_sheet(CLI::App& program, ExitCode& exit_code);

}  // namespace swashwright::console
