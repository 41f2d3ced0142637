// `swashwright turn`: the head through one turn of the rotor as an animated picture.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "viewer/console/changes.h"
#include "viewer/console/loading.h"
#include "viewer/console/numbers.h"
#include "viewer/console/out_file.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/streams.h"
#include "viewer/console/verbs.h"
#include "viewer/draw/picture/film.h"
#include "viewer/draw/solids/anchors.h"

namespace swashwright::console {
namespace {

struct TurnRequest {
    std::string scene, out;
    Changes changes;
    PoseOptions pose;  // sticks and hands
    int frames = 60;
    double seconds = 4;
    draw::PictureOrder order;
};

int run(TurnRequest& request) {
    const auto loaded = load(request.scene, request.changes, request.out, /*must_close=*/false);
    if (!loaded) return loaded.error();
    const auto& [scene, head] = *loaded;
    const PoseOptions& at = request.pose;
    if (const std::string mistake = pose_mistake(at, head); !mistake.empty()) {
        complain("swashwright: {}\n", mistake);
        return ExitCode::bad_input;
    }
    note_if_held_back(head, at.sticks, "drawn");
    const auto horns = horns_of(at, head), hands = hands_of(at, head);
    note_beyond_hand(head, hands);
    std::vector<draw::Moment> moments;
    bool closes = true;
    for (int i = 0; i < request.frames; ++i) {
        const double azimuth = 360.0 * i / request.frames;
        moments.push_back(
            {pose_of_turn(head, horns, hands, azimuth, closes),
             fmt::format("{}, azimuth\u00a0{:03.0f}\u00b0", unbroken_sticks(scene.head, at.sticks), azimuth)});
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
    add_out(*verb, request->out, {"films are written as WebP", {".webp"}}, "The WebP file to write")->required();
    add_changes(*verb, request->changes);
    add_stick_options(*verb, request->pose.sticks);
    add_hand_option(*verb, request->pose);
    add_count(*verb, "--frames", request->frames, 2, 360, "Pictures in the turn, 2 to 360");
    add_number(*verb, "--seconds", request->seconds, 0.5, 60, "How long the turn takes, 0.5 to 60")
        ->default_str(fmt::format("{}", request->seconds));
    add_count(*verb, "--width", request->order.width, 160, 4096, "Pixels, 160 to 4096");
    add_count(*verb, "--height", request->order.height, 160, 4096, "Pixels, 160 to 4096");
    verb->add_flag("--night", request->order.style.night, "The dark sheet");
    verb->add_flag("--whole-blades", request->order.style.whole_blades, "Blades to their tips, not only stubs");
    add_number(*verb, "--exaggerate", request->order.style.exaggeration, 1, 20,
               "Draw differences of pitch so many times larger, 1 to 20")
        ->default_str(fmt::format("{}", request->order.style.exaggeration));
    verb->callback([request, &exit_code] { exit_code.value = run(*request); });
}

}  // namespace swashwright::console
