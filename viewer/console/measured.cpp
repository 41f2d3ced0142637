// `swashwright measured`: a head from calliper readings.
#include <fmt/format.h>

#include <memory>

#include "kinematics/bench_files/measured.h"
#include "kinematics/scene/scene.h"
#include "kinematics/studies/measured/measured.h"
#include "viewer/console/out_file.h"
#include "viewer/console/streams.h"
#include "viewer/console/study.h"

namespace swashwright::console {
namespace {

struct Request {
    std::string readings, out;
    bool json = false, csv = false;
};

std::string scene_text(const studies::Measured& measured, const scene::MeasuredFile& file) {
    scene::Scene made;
    made.head = measured.head;
    made.note = scene::note_of_measured(file);
    return scene::write(made);
}

int run(const Request& request) {
    const auto file = scene::load_measured(request.readings);
    if (!file) {
        put_error(file.error().text());
        return ExitCode::bad_input;
    }
    const auto measured = studies::measured_head(file->measured);
    if (!measured) {
        complain("{}: {}\n", request.readings, measured.error());
        return ExitCode::bad_input;
    }
    if (const auto refusal = overwrites(request.out, {request.readings})) {
        complain("swashwright: --out: {}\n", *refusal);
        return ExitCode::bad_input;
    }
    studies::Answer answer = studies::answer(*measured, file->measured.layout);
    if (!file->note.empty()) answer.notes.insert(answer.notes.begin(), "Readings: " + file->note);
    int exit_code = measured->does_not_close.empty() ? ExitCode::closes : ExitCode::cannot_be_assembled;
    if (exit_code != ExitCode::closes) complain("swashwright: {}\n", measured->does_not_close);
    if (!request.out.empty()) {
        const std::string text = scene_text(*measured, *file);
        if (const auto sound = scene::parse(text, request.readings); !sound) {
            complain("{}: the readings give a head that no scene file may hold; look for a slip:\n{}", request.readings,
                     sound.error().text());
            return ExitCode::bad_input;
        }
        exit_code = write_out(request.out, text, exit_code == ExitCode::closes);
    }
    print(answer, request.json, request.csv);
    return exit_code;
}

}  // namespace

void add_measured(CLI::App& program, ExitCode& exit_code) {
    CLI::App* verb = program.add_subcommand("measured", "Make a head from calliper readings and say what is doubtful");
    const auto request = std::make_shared<Request>();
    verb->add_option("READINGS", request->readings, "File of calliper readings (TOML)")->required()->type_name("FILE");
    add_out(*verb, request->out, {"scenes are written as TOML", {".toml"}}, "Write the head as a scene file");
    CLI::Option* json = verb->add_flag("--json", request->json, "Print JSON instead of tables");
    verb->add_flag("--csv", request->csv, "Print comma-separated values instead of tables")->excludes(json);
    verb->callback([request, &exit_code] { exit_code.value = run(*request); });
}

}  // namespace swashwright::console
