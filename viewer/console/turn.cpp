// `swashwright turn`: the head through one turn of the rotor as an animated picture.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "viewer/console/changes.h"
#include "viewer/console/out_file.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/verbs.h"
#include "viewer/draw/anchors.h"
#include "viewer/draw/film.h"

namespace swashwright::console {
namespace {

struct TurnRequest {
    std::string scene, out;
    Changes changes;
    head::Sticks sticks;
    int frames = 60;
    double seconds = 4;
    draw::PictureOrder order;
};

int run(TurnRequest& request) {
    if (!request.out.ends_with(".webp")) {
        fmt::print(stderr, "swashwright: films are written as WebP: let the file's name end in .webp, found {}\n",
                   request.out);
        return ExitCode::bad_input;
    }
    const auto loaded = load_head(request.scene, request.changes, /*must_close=*/false);
    if (!loaded) {
        fmt::print(stderr, "{}", loaded.error());
        return ExitCode::bad_input;
    }
    const auto& [scene, head] = *loaded;
    note_if_held_back(head, request.sticks, "drawn");
    const auto horns = head.horn_angles_deg(request.sticks);
    std::vector<draw::Moment> moments;
    bool closes = true;
    for (int i = 0; i < request.frames; ++i) {
        const double azimuth = 360.0 * i / request.frames;
        moments.push_back(
            {pose_of_turn(head, horns, azimuth, closes),
             fmt::format(
                 "collective\u00a0{:+.2f}, aileron\u00a0{:+.2f}, elevator\u00a0{:+.2f}, azimuth\u00a0{:03.0f}\u00b0",
                 request.sticks.collective, request.sticks.aileron, request.sticks.elevator, azimuth)});
    }
    request.order.title = draw::title_of(scene.head);
    request.order.note = noted(request.changes, scene);
    const int each = std::max(1, static_cast<int>(1000 * request.seconds / request.frames + 0.5));
    const auto bytes = draw::make_film(scene.head, moments, each, request.order);
    return write_out(request.out, bytes, closes);
}

}  // namespace

void add_turn(CLI::App& program, ExitCode& exit_code) {
    CLI::App* verb = program.add_subcommand("turn", "Draw one turn of the rotor into an animated WebP file");
    const auto request = std::make_shared<TurnRequest>();
    request->order.width = 800;
    request->order.height = 600;
    verb->add_option("SCENE", request->scene, "Scene file")->required()->type_name("FILE");
    verb->add_option("--out", request->out, "The WebP file to write")->required()->type_name("FILE");
    add_changes(*verb, request->changes);
    add_stick_options(*verb, request->sticks);
    verb->option_defaults()->always_capture_default();  // for --help
    verb->add_option("--frames", request->frames, "Pictures in the turn, 2 to 360")->check(CLI::Range(2, 360));
    verb->add_option("--seconds", request->seconds, "How long the turn takes, 0.5 to 60")->check(CLI::Range(0.5, 60.0));
    verb->add_option("--width", request->order.width, "Pixels, 160 to 4096")->check(CLI::Range(160, 4096));
    verb->add_option("--height", request->order.height, "Pixels, 160 to 4096")->check(CLI::Range(160, 4096));
    verb->add_flag("--night", request->order.style.night, "The dark sheet");
    verb->add_flag("--whole-blades", request->order.style.whole_blades, "Blades to their tips, not only stubs");
    verb->add_option("--exaggerate", request->order.style.exaggeration,
                     "Draw differences of pitch so many times larger, 1 to 20")
        ->check(CLI::Range(1.0, 20.0));
    verb->callback([request, &exit_code] { exit_code.value = run(*request); });
}

}  // namespace swashwright::console
