#include "viewer/panels/picture/dragging.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "kinematics/head/build.h"
#include "kinematics/studies/live/steering.h"
#include "viewer/draw/overlay/handle_marks.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/picture/hiding.h"

namespace swashwright::panels {

namespace {

using Of = draw::Handle::Of;
using What = studies::Aim::What;

constexpr double reach = 16;      // pixels at scale 1
constexpr double most_tilt = 40;  // deg, of a ring in one drag

draw::Viewport viewport_of(const Rect& place) {
    return {static_cast<int>(place.x), static_cast<int>(place.y), static_cast<int>(place.width),
            static_cast<int>(place.height)};
}

std::string degrees(double value) {
    return fmt::format("{:+.2f}\xC2\xB0", std::round(value * 100) / 100 + 0.0);
}

/// "Ring 2.10° nose down and 0.35° left down".
std::string tilt_words(double forward_deg, double right_deg) {
    std::string out;
    for (const auto& [deg, more, less] :
         {std::tuple(forward_deg, "nose down", "nose up"), {right_deg, "right down", "left down"}})
        if (std::abs(deg) >= 0.005)
            out += fmt::format("{} {:.2f}\xC2\xB0 {}", out.empty() ? "Ring" : " and", std::abs(deg),
                               deg > 0 ? more : less);
    return out.empty() ? "Ring level" : out;
}

/// What the handle moves, as it is now.
double reading_of(const draw::Handle& handle, const Bench& bench) {
    const head::Pose& pose = bench.live().shown->pose;
    const auto i = static_cast<std::size_t>(handle.index);
    switch (handle.of) {
        case Of::pitch:
            return pose.pitch_deg[i];
        case Of::tilt:
            return pose.tilt_forward_deg;
        case Of::height:
            return pose.height_mm;
        case Of::horn:
            return pose.horn_deg[i];
        case Of::hand:
            break;
    }
    const auto moved = bench.controls.hands.find(handle.index);
    return moved != bench.controls.hands.end() ? moved->second : bench.head().levers[i].angle_deg;
}

studies::SteerBy sticks_for(const Drag& drag, const head::Description& d) {
    if (d.kind == head::Kind::tail) return {.rudder = true};
    switch (drag.handle.of) {
        case Of::pitch:
            return {.collective = !drag.cyclic, .aileron = drag.cyclic, .elevator = drag.cyclic};
        case Of::tilt:
            return {.aileron = true, .elevator = true};
        case Of::height:
            return {.collective = true};
        default:
            return {.collective = true, .aileron = true, .elevator = true};
    }
}

/// Where everything is wanted once the handle has moved by so much.
std::vector<studies::Aim> aims_of(const Drag& drag, double by, const head::Head& head) {
    const draw::Handle& handle = drag.handle;
    switch (handle.of) {
        case Of::pitch:
            return {{What::pitch_deg, handle.index, drag.reading + by}};
        case Of::height:
            return {{What::height_mm, 0, drag.reading + by}};
        case Of::tilt: {
            // The ring's normal as it was, turned with the rim.
            // Beyond any ring's reach it goes no further: near a quarter turn its two tilts say little.
            by = std::clamp(by, -most_tilt, most_tilt);
            const double f = std::tan(drag.reading * degree), r = std::tan(drag.other * degree);
            const Vec3 n = Eigen::AngleAxisd(by * degree, handle.way) * Vec3(f, -r, 1).normalized();
            return {{What::tilt_forward_deg, 0, head::tilt_forward_deg(n)},
                    {What::tilt_right_deg, 0, head::tilt_right_deg(n)}};
        }
        default:
            break;
    }
    std::vector<studies::Aim> aims;
    const std::vector<double> before = head.horn_angles_deg(drag.before.sticks);
    for (std::size_t j = 0; j < before.size(); ++j) {
        const bool own = static_cast<int>(j) == handle.index;
        aims.push_back({What::horn_deg, static_cast<int>(j), before[j] + (own ? by : 0), !own});
    }
    return aims;
}

/// By how much (deg) horns that should have stayed have moved.
double others_moved(const std::vector<studies::Aim>& aims, const studies::Steered& steered) {
    double most = 0;
    for (std::size_t i = 0; i < aims.size(); ++i)
        if (aims[i].keep) most = std::max(most, std::abs(steered.reached[i] - aims[i].wanted));
    return most;
}

std::string reached_words(const Drag& drag, const std::vector<studies::Aim>& aims, const studies::Steered& steered,
                          const head::Description& d, bool inches) {
    const auto i = static_cast<std::size_t>(drag.handle.index);
    switch (drag.handle.of) {
        case Of::pitch:
            return fmt::format("Blade {} at {}", i + 1, degrees(steered.pose.pitch_deg[i]));
        case Of::height:
            return fmt::format("{} at {}", d.swashplate.tilts ? "Ring" : "Slider",
                               length_text(steered.pose.height_mm, inches));
        case Of::tilt:
            return tilt_words(steered.pose.tilt_forward_deg, steered.pose.tilt_right_deg);
        default:
            break;
    }
    const double others = others_moved(aims, steered);
    const std::string rest = aims.size() < 2 ? std::string()
                             : others < 0.01 ? ", the other horns stay"
                                             : fmt::format(", and others have to go along by {:.2f}\xC2\xB0", others);
    return fmt::format("Horn of {} at {}{}", head::servo_words(d.servos[i]), degrees(steered.pose.horn_deg[i]), rest);
}

/// What moves when a handle is dragged.
std::string moves_words(const draw::Handle& handle, head::Kind kind) {
    if (handle.of == Of::hand) return "by hand, the sticks stay";
    if (kind == head::Kind::tail) return "the rudder follows";
    if (handle.of == Of::pitch) return "collective, with Shift the cyclic stick";
    return "the sticks follow";
}

void drag_lever(Bench& bench, Drag& drag, double by) {
    const double wanted = drag.reading + by;
    move_hand(bench, drag.handle.index, wanted);
    const double now = reading_of(drag.handle, bench);
    drag.words = fmt::format("{} at {}", drag.handle.words, degrees(now));
    drag.trouble = std::abs(now - wanted) < 0.06 ? "" : "It goes no further by hand.";
}

}  // namespace

std::vector<draw::Handle> chosen_handles(const Bench& bench, const View& view, const Selection& selection) {
    const Readout& live = bench.live();
    if (!selection.selected || !live.shown || !live.head || !live.closes || live.hangs) return {};
    if (is_hidden(view, *selection.selected)) return {};
    const draw::Style style{
        .exaggeration = view.exaggeration, .whole_blades = view.whole_blades, .touched = {}, .trouble = {}};
    return draw::handles_of(*selection.selected, live.shown->description, live.shown->pose, style);
}

void grab_handle(const Screen& screen, Bench& bench, const View& view, const Selection& selection, Sights& sights,
                 const Rect& place, bool cyclic) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const draw::Viewport viewport = viewport_of(place);
    const auto handle =
        draw::handle_near(chosen_handles(bench, view, selection), view.camera, viewport, static_cast<double>(mouse.x),
                          static_cast<double>(mouse.y), reach * static_cast<double>(screen.scale()));
    if (!handle) return;
    const glm::dvec3 at = view.camera.project(handle->at, viewport);
    Drag drag;
    drag.handle = *handle;
    drag.off = {static_cast<float>(at.x) - mouse.x, static_cast<float>(at.y) - mouse.y};
    drag.reading = reading_of(*handle, bench);
    drag.other = bench.live().shown->pose.tilt_right_deg;
    drag.cyclic = cyclic && bench.head().kind == head::Kind::main;
    bench.controls.turning = false;
    drag.before = bench.controls;
    drag.revision = bench.document().revision();
    sights.drag = std::move(drag);
}

void drag_on(const Screen& screen, Bench& bench, const View& view, Sights& sights, const Rect& place) {
    Drag& drag = *sights.drag;
    const Readout& live = bench.live();
    if (drag.given_up || !live.head) return;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const double by =
        draw::dragged_to(drag.handle, view.camera, viewport_of(place), static_cast<double>(mouse.x + drag.off.x),
                         static_cast<double>(mouse.y + drag.off.y));
    if (drag.handle.of == Of::hand) return drag_lever(bench, drag, by);
    const auto aims = aims_of(drag, by, *live.head);
    const auto steered =
        studies::steer(*live.head, drag.before.sticks, drag.before.azimuth_deg,
                       hand_angles(*live.head, drag.before.hands), aims, sticks_for(drag, bench.head()));
    if (!steered) {
        drag.trouble = steered.error().message;
        return;
    }
    bench.controls.sticks = steered->sticks;
    drag.words = reached_words(drag, aims, *steered, bench.head(), screen.settings.inches);
    if (const std::string moved = studies::moved_words(drag.before.sticks, steered->sticks); !moved.empty())
        drag.words += ": " + moved;
    drag.trouble = steered->why_not;
}

void give_drag_up(Bench& bench, Sights& sights) {
    bench.controls = sights.drag->before;
    sights.drag->given_up = true;
    sights.drag->words = "As it was before";
    sights.drag->trouble.clear();
}

void find_handle(const Screen& screen, const Bench& bench, const View& view, const Selection& selection, Sights& sights,
                 const Rect& place) {
    sights.handle.clear();
    if (!ImGui::IsItemHovered() || ImGui::IsAnyMouseDown() || view.move) return;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const auto handle = draw::handle_near(chosen_handles(bench, view, selection), view.camera, viewport_of(place),
                                          static_cast<double>(mouse.x), static_cast<double>(mouse.y),
                                          reach * static_cast<double>(screen.scale()));
    if (!handle) return;
    sights.handle = handle->words;
    sights.handle_moves = moves_words(*handle, bench.head().kind);
}

void draw_handles(Screen& screen, const Bench& bench, const View& view, const Selection& selection,
                  const Sights& sights, ImDrawList& list, const Rect& place) {
    const draw::Viewport viewport = viewport_of(place);
    const std::vector<draw::Handle> handles = chosen_handles(bench, view, selection);
    const auto firm = std::ranges::find_if(handles, [&](const draw::Handle& handle) {
        return sights.drag ? sights.drag->handle.same(handle) : sights.handle == handle.words;
    });
    draw::draw_handle_marks(list, handles, firm == handles.end() ? nullptr : &*firm, view.camera, viewport,
                            screen.settings.night, screen.scale());
    const float radius = 7 * screen.scale();
    for (const draw::Handle& handle : handles) {
        const glm::dvec3 at = view.camera.project(handle.at, viewport);
        if (at.z > 1) continue;
        const ImVec2 middle{static_cast<float>(at.x), static_cast<float>(at.y)};
        screen.report.rectangle("handle " + handle.words, {middle.x - radius, middle.y - radius},
                                {middle.x + radius, middle.y + radius});
    }
}

std::vector<std::string> drag_words(const Sights& sights) {
    std::vector<std::string> out;
    if (sights.drag) {
        if (!sights.drag->trouble.empty()) out.push_back(sights.drag->trouble);
        if (!sights.drag->words.empty()) out.push_back(sights.drag->words);
    } else if (!sights.handle.empty()) {
        out.push_back(fmt::format("Drag the {}: {}", sights.handle, sights.handle_moves));
    }
    return out;
}

}  // namespace swashwright::panels
