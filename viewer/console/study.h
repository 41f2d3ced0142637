// What every study's verb does alike: the scene, the form of the output, and the printing.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <memory>
#include <string>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"
#include "kinematics/studies/answer.h"
#include "viewer/console/verbs.h"

namespace swashwright::console {

/// What the study gets and what it gives back: an answer, or one sentence that says why there is none.
using Study = std::function<tl::expected<studies::Answer, std::string>(const scene::Scene&, const head::Head&)>;

/// Adds the verb with SCENE, --json and --csv. Add the verb's own options to what it returns; they must be read inside
/// `study`, which runs after parsing. A study without an answer leaves exit code `cannot_be_assembled`.
/// A study that can do with a head whose loop does not close at neutral says so by `must_close`.
CLI::App* add_study(CLI::App& program, ExitCode& exit_code, const std::string& name, const std::string& help,
                    Study study, bool must_close = true);

/// {"study", "answer", "tables": {key: [{column: value}]}, "notes"}: numbers with all their digits, nothing as null.
std::string as_json(const studies::Answer& answer);

}  // namespace swashwright::console
