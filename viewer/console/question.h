// The verb of a study's specification.
#pragma once

#include "kinematics/studies/questions/question.h"
#include "viewer/console/verbs.h"

namespace swashwright::console {

/// Adds it with SCENE, --json, --csv, the sticks that it asks for, its own options, and --readings if it reads any.
/// `question` must outlive parsing.
void add_question(CLI::App& program, ExitCode& exit_code, const studies::Question& question);

}  // namespace swashwright::console
