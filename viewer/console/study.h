// What every study's verb does alike: the scene, the form of the output, and the printing.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"
#include "kinematics/studies/answer/answer.h"
#include "viewer/console/verbs.h"

namespace swashwright::console {

/// Why there is no answer: a sentence, or whole lines that name a file and end the last one too.
struct Refusal {
    std::string why;
    int exit_code;
    std::optional<studies::Answer> all_the_same;  // what can be told nevertheless

    // NOLINTNEXTLINE(google-explicit-constructor): so that a study's own sentence is one
    Refusal(std::string words, int code = ExitCode::cannot_be_assembled,
            std::optional<studies::Answer> answer = std::nullopt)
        : why(std::move(words)), exit_code(code), all_the_same(std::move(answer)) {}
};
/// An argument or a file that cannot be meant.
inline tl::unexpected<Refusal> bad_input(std::string words) {
    return tl::unexpected(Refusal(std::move(words), ExitCode::bad_input));
}

/// What the study gets and what it gives back.
using Answered = tl::expected<studies::Answer, Refusal>;
using Study = std::function<Answered(const scene::Scene&, const head::Head&)>;

/// Adds the verb with SCENE, --json and --csv. Add the verb's own options to what it returns; they must be read inside
/// `study`, which runs after parsing.
/// A study that can do with a head whose loop does not close at neutral says so by `must_close`.
CLI::App* add_study(CLI::App& program, ExitCode& exit_code, const std::string& name, const std::string& help,
                    Study study, bool must_close = true);

/// To standard output; as a table where neither is asked for.
void print(const studies::Answer& answer, bool json, bool csv);

/// {"study", "answer", "tables": {key: [{column: value}]}, "notes"}: numbers with all their digits, nothing as null.
std::string as_json(const studies::Answer& answer);

}  // namespace swashwright::console
