#include <fmt/format.h>

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "viewer/draw/overlay/overlay.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/picture/pointing.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

/// Left drag turns; right or middle drag, or shift, moves; the wheel comes closer.
void handle_camera(State& state, const Rect& place) {
    const ImGuiIO& io = ImGui::GetIO();
    // In the frame of the press the pointer may have come from anywhere.
    const bool held = ImGui::IsItemActive() && !ImGui::IsItemActivated();
    draw::Camera& camera = state.view.camera;
    const ImVec2 by = io.MouseDelta;
    if (held && (by.x != 0 || by.y != 0)) {
        state.view.move.reset();
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
std::optional<draw::GapMark> gap_mark(State& state) {
    if (!watches_pair(state) || !state.live().head || !state.live().closes) return std::nullopt;
    const auto gap = state.gap.measure(*state.live().head, state.document.revision(), state.controls.sticks,
                                       state.controls.azimuth_deg);
    if (!gap) return std::nullopt;
    return draw::GapMark{
        gap->at[0], gap->at[1],
        gap->mm > 0 ? length_text(gap->mm, state.settings.inches) + " apart" : std::string("They touch here")};
}

draw::OverlayWords overlay_words(State& state) {
    draw::OverlayWords words;
    words.length = [inches = state.settings.inches](double mm, int decimals) {
        return length_text(mm, inches, decimals);
    };
    words.gap = gap_mark(state);
    words.in_sight = state.in_sight;
    if (!state.view.names) words.in_sight.spots.clear();
    for (const head::Shortfall& shortfall : state.live().shortfalls)
        if (shortfall.part) words.trouble.push_back({*shortfall.part, shortfall.sentence});
    return words;
}

/// What must not be overlooked, from the bottom upwards.
std::vector<std::string> patch_words(const State& state) {
    const Readout& live = state.live();
    std::vector<std::string> words;
    if (state.view.exaggeration > 1)
        words.push_back(fmt::format("Pitch differences drawn \xC3\x97{:.0f}", state.view.exaggeration));
    if (live.shown && !live.closes)
        words.emplace_back(live.shown_is_nearest ? "Nearest fit: the loop does not close"
                                                 : "The last pose that closed");
    return words;
}

std::vector<draw::NameBox> patch_boxes(const State& state, const Rect& place) {
    const float scale = state.scale();
    float bottom = place.bottom() - 10 * scale;
    std::vector<draw::NameBox> boxes;
    for (const std::string& words : patch_words(state)) {
        const ImVec2 size = ImGui::CalcTextSize(words.c_str());
        const glm::vec2 low(place.x + 10 * scale, std::round(bottom - size.y - 10 * scale));
        boxes.push_back({low, {low.x + size.x + 20 * scale, bottom}});
        bottom = low.y - 6 * scale;
    }
    return boxes;
}

/// Words on dark patches.
void draw_patches(const State& state, ImDrawList& list, const Rect& place) {
    const Inks ink = state.inks();
    const std::vector<std::string> words = patch_words(state);
    const std::vector<draw::NameBox> boxes = patch_boxes(state, place);
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const auto& [low, high] = boxes[i];
        list.AddRectFilled({low.x, low.y}, {high.x, high.y}, ink.ink);
        text_at(list, {low.x + 10 * state.scale(), low.y + 5 * state.scale()}, ink.paper, words[i]);
    }
}

/// What was just done, in the corner, for a few seconds.
void draw_notice(const State& state, ImDrawList& list, const Rect& place) {
    if (state.notice.empty()) return;
    const Inks ink = state.inks();
    const float scale = state.scale();
    const std::string words = wrapped(state.notice, place.width - 40 * scale);
    const ImVec2 size = ImGui::CalcTextSize(words.c_str());
    const ImVec2 low{std::round(place.right() - size.x - 26 * scale), place.y + 8 * scale};
    const ImVec2 high{place.right() - 10 * scale, low.y + size.y + 8 * scale};
    list.AddRectFilled(low, high, ink.panel);
    list.AddRect(low, high, ink.rule);
    text_at(list, {low.x + 8 * scale, low.y + 4 * scale}, ink.ink, words);
}

}  // namespace

void draw_picture(State& state, const Rect& place) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));
    begin_panel("picture", place);
    ImGui::PopStyleVar();
    ImDrawList& list = *ImGui::GetWindowDrawList();

    place_at(place.x, place.y);
    ImGui::InvisibleButton(
        "picture", {place.width, place.height},
        ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight | ImGuiButtonFlags_MouseButtonMiddle);
    state.report.item("picture");
    handle_camera(state, place);
    if (clicked()) state.click = ImVec2(ImGui::GetIO().MousePos.x - place.x, ImGui::GetIO().MousePos.y - place.y);
    follow_pointer(state, place);

    const Readout& live = state.live();
    if (live.shown) {
        const draw::Viewport viewport{static_cast<int>(place.x), static_cast<int>(place.y),
                                      static_cast<int>(place.width), static_cast<int>(place.height)};
        draw::OverlayWords words = overlay_words(state);
        words.taken = patch_boxes(state, place);
        draw::draw_overlay(list, live.shown->description, live.shown->pose, state.view.camera, picture_style(state),
                           viewport, words, state.scale());
    }
    draw_patches(state, list, place);
    draw_notice(state, list, place);
    draw_note(state, place);
    ImGui::End();
}

}  // namespace swashwright::panels
