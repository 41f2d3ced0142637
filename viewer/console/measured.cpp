// `swashwright measured`: a head from calliper readings.
#include <fmt/format.h>

#include <memory>

#include "kinematics/scene/measured.h"
#include "kinematics/scene/scene.h"
#include "kinematics/studies/measured_head.h"
#include "viewer/console/study.h"
#include "viewer/document/atomic_file.h"

namespace swashwright::console {
namespace {

struct Request {
    std::string readings, out;
    bool json = false, csv = false;
};

int run(const Request& request) {
    const auto file = scene::load_measured(request.readings);
    if (!file) {
        fmt::print(stderr, "{}", file.error().text());
        return ExitCode::bad_input;
    }
    const auto measured = studies::measured_head(file->measured);
    if (!measured) {
        fmt::print(stderr, "swashwright: {}\n", measured.error());
        return ExitCode::cannot_be_assembled;
    }
    studies::Answer answer = studies::answer(*measured, file->measured.layout);
    if (!file->note.empty()) answer.notes.insert(answer.notes.begin(), "Readings: " + file->note);
    if (!request.out.empty()) {
        scene::Scene made;
        made.head = measured->head;
        made.note = scene::note_of_measured(*file);
        if (const auto saved = document::write_atomically(request.out, scene::write(made)); !saved) {
            fmt::print(stderr, "swashwright: {}\n", saved.error());
            return ExitCode::bad_input;
        }
    }
    if (request.json)
        fmt::print("{}\n", as_json(answer));
    else if (request.csv)
        fmt::print("{}", studies::as_csv(answer));
    else
        fmt::print("{}", studies::as_text(answer));
    return ExitCode::closes;
}

}  // namespace

void add_measured(CLI::App& program, ExitCode& exit_code) {
    CLI::App* verb = program.add_subcommand("measured", "Make a head from calliper readings and say what is doubtful");
    const auto request = std::make_shared<Request>();
    verb->add_option("READINGS", request->readings, "File of calliper readings (TOML)")->required()->type_name("FILE");
    verb->add_option("--out", request->out, "Write the head as a scene file")->type_name("FILE");
    CLI::Option* json = verb->add_flag("--json", request->json, "Print JSON instead of tables");
    verb->add_flag("--csv", request->csv, "Print comma-separated values instead of tables")->excludes(json);
    verb->callback([request, &exit_code] { exit_code.value = run(*request); });
}

}  // namespace swashwright::console
