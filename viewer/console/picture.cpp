// `swashwright picture`: the head at one pose as a PNG file, drawn without a window.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "kinematics/head/inventory.h"
#include "viewer/console/changes.h"
#include "viewer/console/loading.h"
#include "viewer/console/numbers.h"
#include "viewer/console/out_file.h"
#include "viewer/console/pose_options.h"
#include "viewer/console/streams.h"
#include "viewer/console/verbs.h"
#include "viewer/draw/picture/picture.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::console {
namespace {

struct PictureRequest {
    std::string scene, out, size = "1280x800", view = "corner";
    Changes changes;
    PoseOptions pose;
    draw::PictureOrder order;
    std::string show;  // a part by its scene path
    bool traces = false, ghost = false, section = false;
    double section_deg = 0;
    CLI::Option* section_at = nullptr;
};

constexpr int least_size = 160, most_size = 8192;

/// "1280x800" into the order; false if it is not such a size.
bool read_size(std::string text, draw::PictureOrder& order) {
    std::ranges::replace(text, 'x', ',');
    const auto sides = finite_numbers(text, least_size, most_size);
    const auto suits = [](double side) { return side == std::floor(side); };
    if (!sides || sides->size() != 2 || !std::ranges::all_of(*sides, suits)) return false;
    order.width = static_cast<int>((*sides)[0]);
    order.height = static_cast<int>((*sides)[1]);
    return true;
}

/// With spaces at which no line breaks.
std::string pose_words(const PoseOptions& r, const head::Description& head) {
    if (!r.horns_deg.empty())
        return fmt::format("horns {:.2f}\u00b0, azimuth {:g}\u00b0", fmt::join(r.horns_deg, "\u00b0, "), r.azimuth_deg);
    std::string hands;
    for (const std::string& hand : r.hands) hands += fmt::format("{}\u00b0, ", hand);
    return fmt::format("{}, {}azimuth\u00a0{:g}\u00b0", unbroken_sticks(head, r.sticks), hands, r.azimuth_deg);
}

draw::View view_named(const std::string& name) {
    if (name == "front") return draw::View::front;
    if (name == "side") return draw::View::side;
    if (name == "link") return draw::View::along;
    return name == "top" ? draw::View::top : draw::View::corner;
}

/// What stands whole under a scene path; none if the head has no such part.
std::optional<draw::Part> part_at(const std::string& path, const head::Description& d) {
    const auto part = draw::part_of(path);
    if (!part) return std::nullopt;
    if (!head::is_numbered(part->role)) return path == "inner_ring" || path == "outer_ring" ? part : std::nullopt;
    const bool there = static_cast<std::size_t>(part->index) < head::count_of(d, part->role);
    return there && path == path_of(*part) ? part : std::nullopt;
}

/// What of levers, sliders and other links there is: ", lever[1], link[1]".
std::string other_parts(const head::Description& d) {
    std::string out;
    for (const auto& [name, count] :
         {std::pair("lever", d.levers.size()), {"slider", d.sliders.size()}, {"link", d.links.size()}})
        if (count > 0) out += fmt::format(", {}[1]", name);
    return out;
}

void mark_shortfalls(const std::vector<head::Shortfall>& shortfalls, draw::PictureOrder& order) {
    for (const head::Shortfall& s : shortfalls) {
        complain("swashwright: {}\n", s.sentence);
        const draw::Part part = s.part.value_or(draw::Part{head::Role::inner_ring, 0});
        order.style.trouble.push_back(part);
        order.words.trouble.push_back({part, s.sentence});
    }
}

/// What is drawn besides the head, as far as it can be had.
void add_extras(const PictureRequest& request, const head::Head& head, std::span<const double> horns,
                draw::PictureOrder& order) {
    const head::Description& d = head.description();
    if (request.section) order.style.section_deg = draw::camera_for(d, order.view, false, 1).azimuth_deg;
    if (request.section_at->count()) order.style.section_deg = request.section_deg;
    if (request.ghost) {
        order.style.ghost = draw::ghost_of(d, horns, request.pose.azimuth_deg, hands_of(request.pose, head));
        if (!draw::has_errors(d))
            complain("swashwright: the scene gives no errors, so the head as meant is the head itself\n");
    }
    if (!request.traces) return;
    order.style.traces =
        draw::traces_of(head, request.pose.sticks, order.style.whole_blades, 120, hands_of(request.pose, head));
    if (!request.pose.horns_deg.empty())
        complain("swashwright: traces are drawn for the sticks, not for the horn angles given\n");
    if (!order.style.traces)
        complain("swashwright: no traces: the links do not reach all the way round at these sticks\n");
}

int run(PictureRequest& request) {
    // A head that does not close is drawn all the same, so the scene is not refused for that.
    const auto loaded = load(request.scene, request.changes, request.out, /*must_close=*/false);
    if (!loaded) return loaded.error();
    const auto& [scene, head] = *loaded;
    if (const std::string mistake = pose_mistake(request.pose, head); !mistake.empty()) {
        complain("swashwright: {}\n", mistake);
        return ExitCode::bad_input;
    }
    if (!request.show.empty()) {
        request.order.style.touched = part_at(request.show, scene.head);
        if (!request.order.style.touched) {
            complain(
                "swashwright: this head has no part {}; expected lower_link[1], upper_link[1], horn[1], servo[1], "
                "grip[1], blade[1]{} and so on, inner_ring or outer_ring\n",
                request.show, other_parts(scene.head));
            return ExitCode::bad_input;
        }
    }
    const auto& shown = request.order.style.touched;
    if (request.view == "link" && (!shown || !draw::is_link(shown->role))) {
        complain("swashwright: --view link looks along a link: name it with --show, as upper_link[1]\n");
        return ExitCode::bad_input;
    }
    const PoseOptions& at = request.pose;
    const std::vector<double> horns = horns_of(at, head);
    if (at.horns_deg.empty()) note_if_held_back(head, at.sticks, "drawn");
    for (const std::string& servo : head.beyond_travel(horns))
        complain("swashwright: warning: beyond travel, drawn all the same: {}\n", servo);
    const std::vector<double> hands = hands_of(at, head);
    note_beyond_hand(head, hands);
    const head::NearestFit fit = head.nearest(horns, at.azimuth_deg, hands);
    draw::PictureOrder& order = request.order;
    order.title = draw::title_of(scene.head);
    order.note = noted(request.changes, scene);
    order.view = view_named(request.view);
    order.pose = pose_words(at, scene.head);
    mark_shortfalls(fit.shortfalls, order);
    add_extras(request, head, horns, order);

    const auto pixels = draw::make_picture(scene.head, fit.pose, order);
    const auto bytes = pixels ? draw::png_bytes(*pixels) : tl::unexpected(pixels.error());
    return write_out(request.out, bytes, fit.shortfalls.empty());
}

}  // namespace

void add_picture(CLI::App& program, ExitCode& exit_code) {
    CLI::App* verb = program.add_subcommand("picture", "Draw the head at one pose into a PNG file");
    const auto request = std::make_shared<PictureRequest>();
    verb->add_option("SCENE", request->scene, "Scene file")->required()->type_name("FILE");
    add_out(*verb, request->out, {"pictures are written as PNG", {".png"}}, "The PNG file to write")->required();
    add_changes(*verb, request->changes);
    add_pose_options(*verb, request->pose);
    verb->add_option("--size", request->size, "Width and height in pixels, 160 to 8192 each: 1280x800")
        ->type_name("WxH")
        ->check([request](const std::string& text) {
            return read_size(text, request->order)
                       ? std::string()
                       : fmt::format("expected WIDTHxHEIGHT in pixels, {} to {} each, found {}", least_size, most_size,
                                     text);
        });
    verb->add_flag("--night", request->order.style.night, "The dark sheet");
    verb->add_flag("--whole-blades", request->order.style.whole_blades, "Blades to their tips, not only stubs");
    add_number(*verb, "--exaggerate", request->order.style.exaggeration, 1, 20,
               "Draw differences of pitch so many times larger, 1 to 20");
    verb->add_option("--view", request->view,
                     "Where the eye stands: corner, front, side, top, or link: along the link of --show")
        ->check(CLI::IsMember({"corner", "front", "side", "top", "link"}));
    verb->add_option("--show", request->show, "Light a part, with its length as a dimension: upper_link[2]")
        ->type_name("PART");
    verb->add_flag("--labels", request->order.names, "Name every part that is seen, with leader lines");
    verb->add_flag("--traces", request->traces,
                   "Path of every upper link's balls over one turn, and of each tip with the split drawn larger");
    verb->add_flag("--ghost", request->ghost, "Outlines of the head as it was meant, all errors zero, dashed");
    verb->add_flag("--section", request->section, "Cut open through the shaft, towards the eye");
    request->section_at = add_number(*verb, "--section-at", request->section_deg, -360, 360,
                                     "The same, open towards this azimuth in degrees: 0 the nose, 90 the left");
    verb->callback([request, &exit_code] { exit_code.value = run(*request); });
}

}  // namespace swashwright::console
