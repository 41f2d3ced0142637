#include <fmt/format.h>

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "kinematics/studies/live/live_angle.h"
#include "kinematics/studies/live/live_value.h"
#include "viewer/draw/overlay/overlay.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/picture/ball_pick.h"
#include "viewer/panels/picture/picture_panels.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/picture/pointing.h"

namespace swashwright::panels {

namespace {

/// Left drag turns; right or middle drag, or shift, moves; the wheel comes closer.
void handle_camera(View& view, const Rect& place) {
    const ImGuiIO& io = ImGui::GetIO();
    // In the frame of the press the pointer may have come from anywhere.
    const bool held = ImGui::IsItemActive() && !ImGui::IsItemActivated();
    draw::Camera& camera = view.camera;
    const ImVec2 by = io.MouseDelta;
    if (held && (by.x != 0 || by.y != 0)) {
        view.move.reset();
        const bool turns = io.MouseDown[ImGuiMouseButton_Left] && !io.KeyShift;
        const double mm_per_px =
            2 * camera.distance_mm * std::tan(camera.view_deg * degree / 2) / static_cast<double>(place.height);
        if (turns)
            camera.orbit(-0.4 * by.x, 0.4 * by.y);
        else
            camera.pan(-mm_per_px * by.x, mm_per_px * by.y);
    }
    if (ImGui::IsItemHovered() && io.MouseWheel != 0) camera.zoom(std::pow(1.1, io.MouseWheel));
}

/// A click that did not become a drag lights the part under it, or nothing.
bool clicked() {
    const ImGuiIO& io = ImGui::GetIO();
    return ImGui::IsItemHovered() && ImGui::IsMouseReleased(ImGuiMouseButton_Left) &&
           io.MouseDragMaxDistanceSqr[ImGuiMouseButton_Left] < 16;
}

/// The gap of the pair that was chosen in a table, as long as its part is the chosen one.
std::optional<draw::GapMark> gap_mark(const Screen& screen, const Bench& bench, const Selection& selection,
                                      Sights& sights) {
    if (!watches_pair(selection) || !bench.live().head || !bench.live().closes) return std::nullopt;
    if (!bench.controls.hands.empty()) return std::nullopt;  // gaps are measured with all hands at neutral
    const auto gap = sights.gap.measure(selection.pair, *bench.live().head, bench.document().revision(),
                                        bench.controls.sticks, bench.controls.azimuth_deg);
    if (!gap) return std::nullopt;
    return draw::GapMark{
        gap->at[0], gap->at[1],
        gap->mm > 0 ? length_text(gap->mm, screen.settings.inches) + " apart" : std::string("They touch here")};
}

/// The angle that a lesson speaks of, with its value as it is now.
std::optional<draw::AngleMark> angle_mark(const Bench& bench, const std::string& value) {
    const Readout& live = bench.live();
    if (value.empty() || !live.head || !live.closes || !live.shown || !bench.controls.hands.empty())
        return std::nullopt;
    const auto angle = studies::live_angle(live.shown->description, live.shown->pose, value);
    const auto deg = studies::live_value(*live.head, bench.controls.sticks, bench.controls.azimuth_deg, value);
    if (!angle || !deg) return std::nullopt;
    return draw::AngleMark{angle->at, angle->to_link, angle->to_axis, angle->folded,
                           fmt::format("{:.1f}\xC2\xB0", *deg)};
}

draw::OverlayWords overlay_words(const Screen& screen, const Bench& bench, const View& view, const Selection& selection,
                                 Sights& sights) {
    draw::OverlayWords words;
    words.length = [inches = screen.settings.inches](double mm, int decimals) {
        return length_text(mm, inches, decimals);
    };
    words.gap = gap_mark(screen, bench, selection, sights);
    words.in_sight = sights.in_sight;
    const Readout& live = bench.live();
    if (view.forces && live.head && live.closes && live.shown)
        words.loads = sights.loads.measure(*view.forces, *live.head, bench.document().revision(), *live.shown);
    words.angle = angle_mark(bench, selection.angle);
    if (!view.names) words.in_sight.spots.clear();
    for (const head::Shortfall& shortfall : live.shortfalls)  // they stand on the link, which need not be named
        if (shortfall.part)
            words.trouble.push_back(
                {*shortfall.part, fmt::format("balls {} too {}", words.length(std::abs(shortfall.missing_mm), 2),
                                              shortfall.missing_mm > 0 ? "far apart" : "close together")});
    return words;
}

/// What must not be overlooked, from the bottom upwards.
std::vector<std::string> patch_words(const Bench& bench, const View& view) {
    const Readout& live = bench.live();
    std::vector<std::string> words;
    if (view.exaggeration > 1)
        words.push_back(fmt::format("Pitch differences drawn \xC3\x97{:.0f}", view.exaggeration));
    if (live.shown && !live.closes)
        words.emplace_back(live.hangs              ? "Being put together: parts as they stand, not posed"
                           : live.shown_is_nearest ? "Nearest fit: the links do not reach"
                                                   : "The last pose that the links reached");
    return words;
}

std::vector<draw::NameBox> patch_boxes(const Screen& screen, const Bench& bench, const View& view, const Rect& place) {
    const float scale = screen.scale();
    float bottom = place.bottom() - 10 * scale;
    std::vector<draw::NameBox> boxes;
    for (const std::string& words : patch_words(bench, view)) {
        const ImVec2 size = ImGui::CalcTextSize(words.c_str());
        const glm::vec2 low(place.x + 10 * scale, std::round(bottom - size.y - 10 * scale));
        boxes.push_back({low, {low.x + size.x + 20 * scale, bottom}});
        bottom = low.y - 6 * scale;
    }
    return boxes;
}

/// Words on dark patches.
void draw_patches(const Screen& screen, const Bench& bench, const View& view, ImDrawList& list, const Rect& place) {
    const Inks ink = screen.inks();
    const std::vector<std::string> words = patch_words(bench, view);
    const std::vector<draw::NameBox> boxes = patch_boxes(screen, bench, view, place);
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const auto& [low, high] = boxes[i];
        list.AddRectFilled({low.x, low.y}, {high.x, high.y}, ink.ink);
        text_at(list, {low.x + 10 * screen.scale(), low.y + 5 * screen.scale()}, ink.paper, words[i]);
    }
}

/// What was just done, in the corner, for a few seconds.
void draw_notice(const Screen& screen, ImDrawList& list, const Rect& place) {
    if (screen.notice.empty()) return;
    const Inks ink = screen.inks();
    const float scale = screen.scale();
    const std::string words = wrapped(screen.notice, place.width - 40 * scale);
    const ImVec2 size = ImGui::CalcTextSize(words.c_str());
    const ImVec2 low{std::round(place.right() - size.x - 26 * scale), place.y + 8 * scale};
    const ImVec2 high{place.right() - 10 * scale, low.y + size.y + 8 * scale};
    list.AddRectFilled(low, high, ink.panel);
    list.AddRect(low, high, ink.rule);
    text_at(list, {low.x + 8 * scale, low.y + 4 * scale}, ink.ink, words);
}

void begin_picture(const Rect& place) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));
    begin_panel("picture", place);
    ImGui::PopStyleVar();
}

}  // namespace

void handle_picture(Screen& screen, View& view, Sights& sights, const Rect& place) {
    begin_picture(place);
    place_at(place.x, place.y);
    ImGui::InvisibleButton(
        "picture", {place.width, place.height},
        ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight | ImGuiButtonFlags_MouseButtonMiddle);
    screen.report.item("picture");
    handle_camera(view, place);
    if (clicked()) sights.click = ImVec2(ImGui::GetIO().MousePos.x - place.x, ImGui::GetIO().MousePos.y - place.y);
    follow_pointer(screen, view, sights, place);
    ImGui::End();
}

void draw_picture(Screen& screen, const Bench& bench, const View& view, Selection& selection, Sights& sights,
                  const Rect& place) {
    begin_picture(place);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Readout& live = bench.live();
    if (live.shown) {
        const draw::Viewport viewport{static_cast<int>(place.x), static_cast<int>(place.y),
                                      static_cast<int>(place.width), static_cast<int>(place.height)};
        draw::OverlayWords words = overlay_words(screen, bench, view, selection, sights);
        words.taken = patch_boxes(screen, bench, view, place);
        draw::draw_overlay(list, live.shown->description, live.shown->pose, view.camera,
                           picture_style(screen, bench, view, selection, sights), viewport, words, screen.scale());
    }
    draw_ball_pick(screen, bench, view, selection, list, place);
    draw_patches(screen, bench, view, list, place);
    draw_notice(screen, list, place);
    draw_note(screen, bench, sights, place);
    ImGui::End();
}

}  // namespace swashwright::panels
