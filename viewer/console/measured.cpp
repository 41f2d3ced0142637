// `swashwright measured`: a head from calliper readings.
#include <fmt/format.h>

#include <memory>

#include "kinematics/bench_files/calliper.h"
#include "kinematics/bench_files/measured.h"
#include "kinematics/scene/file_kind.h"
#include "kinematics/scene/files.h"
#include "kinematics/scene/scene.h"
#include "kinematics/studies/measured/measured.h"
#include "viewer/console/loading.h"
#include "viewer/console/out_file.h"
#include "viewer/console/streams.h"
#include "viewer/console/study.h"

namespace swashwright::console {
namespace {

struct Request {
    std::string readings, out;
    bool list = false, json = false, csv = false;
};

/// What readings of either kind come to.
struct Made {
    studies::Answer answer;
    std::string does_not_close;
    scene::Scene scene;
    std::vector<std::string> read;  // the files that were
};
using Making = tl::expected<Made, std::string>;  // fails with whole lines

std::string complaint(const Request& request, const std::string& why) {
    return fmt::format("{}: {}\n", request.readings, why);
}

Making plain_head(const Request& request) {
    const auto file = scene::load_measured(request.readings);
    if (!file) return tl::unexpected(file.error().text());
    const auto measured = studies::measured_head(file->measured);
    if (!measured) return tl::unexpected(complaint(request, measured.error()));
    Made made{studies::answer(*measured, file->measured.layout), measured->does_not_close, {}, {request.readings}};
    if (!file->note.empty()) made.answer.notes.insert(made.answer.notes.begin(), "Readings: " + file->note);
    made.scene.head = measured->head;
    made.scene.note = scene::note_of_measured(*file);
    return made;
}

Making head_of_a_scene(const Request& request) {
    const auto loaded = scene::load_calliper(request.readings);
    if (!loaded) return tl::unexpected(loaded.error().text());
    const auto fit = studies::calliper_fit(loaded->head, loaded->file.readings);
    if (!fit) return tl::unexpected(complaint(request, fit.error()));
    const std::string scene_path = scene::beside(request.readings, loaded->file.scene_file);
    Made made{studies::answer(*fit), fit->does_not_close, scene::measured_scene(*loaded, *fit),
              scene::files_of(scene_path, loaded->scene)};
    made.read.push_back(request.readings);
    if (!loaded->file.note.empty())
        made.answer.notes.insert(made.answer.notes.begin(), "Readings: " + loaded->file.note);
    return made;
}

/// The places of a scene, or of the scene on which a file of readings stands.
int list(const Request& request) {
    std::string path = request.readings;
    if (scene::kind_of_file(path) == scene::FileKind::calliper) {
        const auto readings = scene::load_calliper(path);
        if (!readings) {
            put_error(readings.error().text());
            return ExitCode::bad_input;
        }
        path = scene::beside(path, readings->file.scene_file);
    }
    const auto loaded = load(path, {}, /*out=*/"", /*must_close=*/false);
    if (!loaded) return loaded.error();
    print(studies::places_answer(loaded->head), request.json, request.csv);
    return ExitCode::closes;
}

int run(const Request& request) {
    if (request.list) return list(request);
    const auto made = scene::kind_of_file(request.readings) == scene::FileKind::calliper ? head_of_a_scene(request)
                                                                                         : plain_head(request);
    if (!made) {
        put_error(made.error());
        return ExitCode::bad_input;
    }
    if (const auto refusal = overwrites(request.out, made->read)) {
        complain("swashwright: --out: {}\n", *refusal);
        return ExitCode::bad_input;
    }
    int exit_code = made->does_not_close.empty() ? ExitCode::closes : ExitCode::cannot_be_assembled;
    if (exit_code != ExitCode::closes) complain("swashwright: {}\n", made->does_not_close);
    if (!request.out.empty()) {
        const std::string text = scene::write(made->scene);
        if (const auto sound = scene::parse(text, request.readings); !sound) {
            complain("{}: the readings give a head that no scene file may hold; look for a slip:\n{}", request.readings,
                     sound.error().text());
            return ExitCode::bad_input;
        }
        exit_code = write_out(request.out, text, exit_code == ExitCode::closes);
    }
    print(made->answer, request.json, request.csv);
    return exit_code;
}

}  // namespace

void add_measured(CLI::App& program, ExitCode& exit_code) {
    CLI::App* verb = program.add_subcommand("measured", "Make a head from calliper readings and say what is doubtful");
    const auto request = std::make_shared<Request>();
    verb->add_option("READINGS", request->readings, "File of calliper readings (TOML); with --list a scene")
        ->required()
        ->type_name("FILE");
    CLI::Option* out =
        add_out(*verb, request->out, {"scenes are written as TOML", {".toml"}}, "Write the head as a scene file");
    verb->add_flag("--list", request->list, "Tell where a calliper goes on the head of a scene")->excludes(out);
    CLI::Option* json = verb->add_flag("--json", request->json, "Print JSON instead of tables");
    verb->add_flag("--csv", request->csv, "Print comma-separated values instead of tables")->excludes(json);
    verb->callback([request, &exit_code] { exit_code.value = run(*request); });
}

}  // namespace swashwright::console
