// `swashwright pose`: where the ring and the blades stand at one position of the sticks or horns.
#include <fmt/format.h>

#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>

#include "kinematics/head/hands.h"
#include "kinematics/studies/live/sentence.h"
#include "viewer/console/changes.h"
#include "viewer/console/loading.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/streams.h"
#include "viewer/console/verbs.h"

namespace swashwright::console {
namespace {

struct PoseRequest {
    std::string scene;
    Changes changes;
    PoseOptions pose;
    bool json = false;
};

/// A minus zero is a zero to whoever reads it.
double plain(double value) {
    return value + 0.0;
}

std::string json_text(const head::Description& head, const head::Pose& pose) {
    nlohmann::ordered_json servos = nlohmann::ordered_json::array(), blades = servos;
    for (std::size_t j = 0; j < head.servos.size(); ++j)
        servos.push_back({{"name", head.servos[j].name}, {"angle_deg", plain(pose.horn_deg[j])}});
    for (const double pitch : pose.pitch_deg) blades.push_back({{"pitch_deg", plain(pitch)}});
    nlohmann::ordered_json all = {{"servos", servos},
                                  {"swashplate",
                                   {{"height_mm", plain(pose.height_mm)},
                                    {"tilt_deg", plain(pose.tilt_deg)},
                                    {"lowest_azimuth_deg", plain(pose.lowest_azimuth_deg)}}},
                                  {"blades", blades},
                                  {"residual_mm", plain(pose.residual_mm)}};
    nlohmann::ordered_json parts = nlohmann::ordered_json::array();
    for (std::size_t i = 0; i < head.levers.size(); ++i)
        parts.push_back({{"part", fmt::format("lever[{}]", i + 1)},
                         {"name", head.levers[i].name},
                         {"angle_deg", plain(pose.lever_deg[i])}});
    for (std::size_t i = 0; i < head.sliders.size(); ++i)
        parts.push_back({{"part", fmt::format("slider[{}]", i + 1)},
                         {"name", head.sliders[i].name},
                         {"place_mm", plain(pose.slider_mm[i])}});
    if (head::format_of(head) > 1) all["parts"] = parts;
    if (pose.misfit_mm) all["misfit_mm"] = plain(*pose.misfit_mm);
    return all.dump(2);  // the shortest digits that read back as the same double
}

void print_row(std::string_view name, double value, std::string_view unit) {
    // Rounded first, so that a value just under zero does not print as "-0.0000".
    say("  {:<32}{:>12.4f}  {}\n", name, plain(std::round(value * 1e4) / 1e4), unit);
}

/// Breaks a sentence at spaces into lines of at most 100 columns.
std::string wrapped(std::string text) {
    constexpr std::size_t columns = 100;
    for (std::size_t start = 0; text.size() - start > columns;) {
        const std::size_t space = text.rfind(' ', start + columns);
        if (space == std::string::npos || space <= start) break;
        text[space] = '\n';
        start = space + 1;
    }
    return text;
}

void print_table(const PoseRequest& request, const document::LoadedHead& loaded, const head::Pose& pose,
                 const std::string& saying) {
    const head::Description& head = loaded.scene.head;
    say("{}\n", wrapped(head.name));
    if (!saying.empty()) say("{}\n", saying);
    say("\n");
    if (request.pose.horns_deg.empty() && head.kind == head::Kind::tail)
        say("Stick: rudder {:+} (right +)\n", plain(request.pose.sticks.rudder));
    else if (request.pose.horns_deg.empty())
        say("Sticks: collective {:+} (up +), aileron {:+} (right +), elevator {:+} (forward +)\n",
            plain(request.pose.sticks.collective), plain(request.pose.sticks.aileron),
            plain(request.pose.sticks.elevator));
    else
        say("Horn angles as given\n");
    say("Rotor azimuth of blade 1: {} deg from {}, in the direction of rotation\n", plain(request.pose.azimuth_deg),
        head.kind == head::Kind::tail ? "pointing away from the nose" : "the tail");
    say("\nServo horns (neutral + trim + command)\n");
    for (std::size_t j = 0; j < head.servos.size(); ++j) print_row(head.servos[j].name, pose.horn_deg[j], "deg");
    if (head.swashplate.tilts) {
        say("\nSwashplate\n");
        print_row("height of the tilt centre", pose.height_mm, "mm above the scene's zero");
        print_row("tilt", pose.tilt_deg, "deg");
        print_row("lowest at azimuth", pose.lowest_azimuth_deg, "deg from the nose, + to the left");
    } else {
        say("\nPitch slider\n");
        print_row("place along the shaft", pose.height_mm, "mm above the scene's zero, towards the blades");
    }
    say("\nBlade pitch (leading edge {} +)\n", head.kind == head::Kind::tail ? "away from the boom" : "up");
    for (std::size_t k = 0; k < pose.pitch_deg.size(); ++k)
        print_row(fmt::format("blade {}", k + 1), pose.pitch_deg[k], "deg");
    for (std::size_t i = 0; i < head.levers.size(); ++i)
        if (!head.levers[i].reads.empty()) print_row(head.levers[i].reads, pose.lever_deg[i], "deg");
    if (!head.levers.empty() || !head.sliders.empty()) say("\nLevers and sliders\n");
    for (std::size_t i = 0; i < head.levers.size(); ++i) print_row(head.levers[i].name, pose.lever_deg[i], "deg");
    for (std::size_t i = 0; i < head.sliders.size(); ++i) print_row(head.sliders[i].name, pose.slider_mm[i], "mm");
    if (pose.misfit_mm) {
        say("\nPlay that the joints need: links or pins are one or more too many\n");
        print_row("largest misfit", *pose.misfit_mm, "mm");
    }
    if (pose.driver_misfit_mm.size() > 1) {
        say("\nPlay that the driver arms need\n");
        for (std::size_t i = 0; i < pose.driver_misfit_mm.size(); ++i)
            print_row(fmt::format("arm {}", i + 1), pose.driver_misfit_mm[i], "mm off its plane");
    }
    say("\nLargest closure error: {:.1e} mm\n", pose.residual_mm);
}

int explain(const head::Failure& failure) {
    complain("swashwright: {}\n", failure.message);
    for (const head::Shortfall& shortfall : failure.shortfalls)
        if (failure.message.find(shortfall.sentence) == std::string::npos)
            complain("swashwright: {}\n", shortfall.sentence);
    return ExitCode::cannot_be_assembled;
}

int run(const PoseRequest& request) {
    const auto loaded = load(request.scene, request.changes, /*out=*/"", /*must_close=*/true);
    if (!loaded) return loaded.error();
    const head::Head& head = loaded->head;
    const PoseOptions& at = request.pose;
    if (const std::string mistake = pose_mistake(at, head); !mistake.empty()) {
        complain("swashwright: {}\n", mistake);
        return ExitCode::bad_input;
    }
    if (!at.horns_deg.empty() && at.sticks_given)
        complain("swashwright: warning: --horns stands in place of the sticks; their values are not used\n");
    const std::vector<double> horns = horns_of(at, head);
    if (at.horns_deg.empty()) note_if_held_back(head, at.sticks, "solved");
    const auto beyond = head.beyond_travel(horns);
    for (const std::string& servo : beyond)
        complain("swashwright: warning: beyond travel, solved all the same: {}\n", servo);
    const std::vector<double> hands = hands_of(at, head);
    note_beyond_hand(head, hands);
    const auto pose = head.pose(horns, at.azimuth_deg, hands);
    if (!pose) return explain(pose.error());
    if (request.json) {
        say("{}\n", json_text(loaded->scene.head, *pose));
        return ExitCode::closes;
    }
    // What the window says there; about sticks, and what lies beyond travel is told already.
    std::string saying = words_of(request.changes, loaded->scene.head);
    if (at.horns_deg.empty() && beyond.empty())
        saying += (saying.empty() ? "" : "\n") +
                  wrapped(studies::sentence(with_hands(head, hands).value_or(head), at.sticks, at.azimuth_deg).text);
    print_table(request, *loaded, *pose, saying);
    return ExitCode::closes;
}

}  // namespace

void add_pose(CLI::App& program, ExitCode& exit_code) {
    CLI::App* verb = program.add_subcommand("pose", "Print where the ring and the blades stand at one pose");
    const auto request = std::make_shared<PoseRequest>();
    verb->add_option("SCENE", request->scene, "Scene file")->required()->type_name("FILE");
    add_changes(*verb, request->changes);
    add_pose_options(*verb, request->pose);
    verb->add_flag("--json", request->json, "Print JSON instead of a table");
    verb->callback([request, &exit_code] { exit_code.value = run(*request); });
}

}  // namespace swashwright::console
