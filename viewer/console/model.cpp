// `swashwright model`: the head at one pose, or through one turn, as a glTF 2.0 model for other programs.
#include <fmt/format.h>

#include <memory>

#include "viewer/console/changes.h"
#include "viewer/console/loading.h"
#include "viewer/console/out_file.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/streams.h"
#include "viewer/console/verbs.h"
#include "viewer/model/gltf.h"

namespace swashwright::console {
namespace {

constexpr int keys = 72;  // of a turn: every 5 deg

struct ModelRequest {
    std::string scene, out;
    Changes changes;
    PoseOptions pose;
    model::Order order;
    bool turn = false;
};

int run(ModelRequest& request) {
    // A head that does not close is written all the same, as it is drawn.
    const auto loaded = load(request.scene, request.changes, request.out, /*must_close=*/false);
    if (!loaded) return loaded.error();
    const auto& [scene, head] = *loaded;
    const PoseOptions& at = request.pose;
    if (const std::string mistake = pose_mistake(at, head); !mistake.empty()) {
        complain("swashwright: {}\n", mistake);
        return ExitCode::bad_input;
    }
    const std::vector<double> horn_deg = horns_of(at, head);
    if (at.horns_deg.empty()) note_if_held_back(head, at.sticks, "written");
    note_beyond_hand(head, hands_of(at, head));
    for (const std::string& servo : head.beyond_travel(horn_deg))
        complain("swashwright: warning: beyond travel, written all the same: {}\n", servo);
    std::vector<model::Moment> moments;
    bool closes = true;
    for (int i = 0; i < (request.turn ? keys : 1); ++i) {
        const double azimuth = at.azimuth_deg + 360.0 * i / keys;
        moments.push_back({azimuth, pose_of_turn(head, horn_deg, hands_of(at, head), azimuth, closes)});
    }
    request.order.form = ending_of(request.out) == ".gltf" ? model::Form::text : model::Form::binary;
    request.order.note = noted(request.changes, scene);
    if (at.horns_deg.empty()) request.order.sticks = at.sticks;
    const auto bytes = model::gltf(scene.head, moments, request.order);
    return write_out(request.out, bytes, closes);
}

}  // namespace

void add_model(CLI::App& program, ExitCode& exit_code) {
    CLI::App* verb = program.add_subcommand("model", "Write the head as a glTF model, at one pose or through one turn");
    const auto request = std::make_shared<ModelRequest>();
    verb->add_option("SCENE", request->scene, "Scene file")->required()->type_name("FILE");
    add_out(*verb, request->out, {"models are written as glTF", {".glb", ".gltf"}},
            "The file to write: .glb, or .gltf as text")
        ->required();
    add_changes(*verb, request->changes);
    add_pose_options(*verb, request->pose);
    verb->add_flag("--turn", request->turn,
                   "With one turn of the rotor as an animation from the azimuth on, slowed down to take 10 s, a key "
                   "every 5 degrees for each part that moves");
    verb->add_flag("--whole-blades", request->order.whole_blades, "Blades to their tips, not only stubs");
    verb->callback([request, &exit_code] { exit_code.value = run(*request); });
}

}  // namespace swashwright::console
