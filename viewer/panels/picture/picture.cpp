#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "viewer/draw/overlay/overlay.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/picture/ball_pick.h"
#include "viewer/panels/picture/distances.h"
#include "viewer/panels/picture/dragging.h"
#include "viewer/panels/picture/part_bar.h"
#include "viewer/panels/picture/picture_panels.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/picture/picture_words.h"
#include "viewer/panels/picture/pointing.h"

namespace swashwright::panels {

namespace {

/// Left drag turns; right or middle drag, or shift, moves; the wheel comes closer to what is under the pointer.
void handle_camera(View& view, const Sights& sights, const Rect& place) {
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
    if (!ImGui::IsItemHovered() || io.MouseWheel == 0) return;
    view.move.reset();
    const draw::Viewport viewport{static_cast<int>(place.x), static_cast<int>(place.y), static_cast<int>(place.width),
                                  static_cast<int>(place.height)};
    // As deep as the part there; beside all parts as deep as the point about which the camera turns.
    const Vec3 under = camera.point_under(static_cast<double>(io.MousePos.x), static_cast<double>(io.MousePos.y),
                                          viewport, sights.pointing.place.value_or(camera.target));
    camera.zoom_at(std::pow(1.1, io.MouseWheel), under);
}

/// A press that did not become a drag.
bool clicked(ImGuiMouseButton button) {
    return ImGui::IsItemHovered() && ImGui::IsMouseReleased(button) &&
           ImGui::GetIO().MouseDragMaxDistanceSqr[button] < 16;
}

/// A click lights the part under it, or nothing; a second one soon after frames it; the right one asks what to do.
void take_clicks(Sights& sights, const Rect& place) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const ImVec2 at{mouse.x - place.x, mouse.y - place.y};
    if (ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left) && !sights.distance.open) {
        sights.click = Click{at, Click::For::frame};
        sights.framed_by_click = true;
    } else if (clicked(ImGuiMouseButton_Left)) {
        if (!std::exchange(sights.framed_by_click, false)) sights.click = Click{at, Click::For::choose};
    } else if (clicked(ImGuiMouseButton_Right)) {
        sights.click = Click{at, Click::For::menu};
    }
    if (ImGui::IsItemActivated() && !ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) sights.framed_by_click = false;
}

/// A handle under the pointer takes the press from the camera. True while one is held, and in the frame of its release.
bool handle_drag(const Screen& screen, Bench& bench, const View& view, const Selection& selection, Sights& sights,
                 const Rect& place) {
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsItemActivated() && io.MouseDown[ImGuiMouseButton_Left] && !sights.distance.open)
        grab_handle(screen, bench, view, selection, sights, place, io.KeyShift);
    find_handle(screen, bench, view, selection, sights, place);
    if (!sights.drag) return false;
    if (!ImGui::IsItemActive()) {
        sights.drag.reset();
        return true;
    }
    if (sights.drag->revision != bench.document().revision()) {  // a key has put another head there
        sights.drag->given_up = true;
        sights.drag->words = sights.drag->trouble = "";
    } else if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape))) {
        give_drag_up(bench, sights);
    }
    if (!ImGui::IsItemActivated()) drag_on(screen, bench, view, sights, place);
    return true;
}

/// One text for each patch, broken where the picture would cut it off.
std::vector<std::string> patch_texts(const Screen& screen, const Bench& bench, const View& view,
                                     const Selection& selection, const Sights& sights, const Rect& place) {
    std::vector<std::string> out = patch_words(bench, view, selection, sights);
    for (std::string& words : out) words = wrapped(words, place.width - 40 * screen.scale());
    return out;
}

std::vector<draw::NameBox> patch_boxes(const Screen& screen, const Bench& bench, const View& view,
                                       const Selection& selection, const Sights& sights, const Rect& place) {
    const float scale = screen.scale();
    float bottom = place.bottom() - 10 * scale;
    std::vector<draw::NameBox> boxes;
    for (const std::string& words : patch_texts(screen, bench, view, selection, sights, place)) {
        const ImVec2 size = ImGui::CalcTextSize(words.c_str());
        const glm::vec2 low(place.x + 10 * scale, std::round(bottom - size.y - 10 * scale));
        boxes.push_back({low, {low.x + size.x + 20 * scale, bottom}});
        bottom = low.y - 6 * scale;
    }
    return boxes;
}

/// Words on dark patches.
void draw_patches(const Screen& screen, const Bench& bench, const View& view, const Selection& selection,
                  const Sights& sights, ImDrawList& list, const Rect& place) {
    const Inks ink = screen.inks();
    const std::vector<std::string> words = patch_texts(screen, bench, view, selection, sights, place);
    const std::vector<draw::NameBox> boxes = patch_boxes(screen, bench, view, selection, sights, place);
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

void handle_picture(Screen& screen, Bench& bench, View& view, const Selection& selection, Sights& sights,
                    const Rect& place) {
    begin_picture(place);
    place_at(place.x, place.y);
    ImGui::InvisibleButton(
        "picture", {place.width, place.height},
        ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight | ImGuiButtonFlags_MouseButtonMiddle);
    screen.report.item("picture");
    sights.size = {place.width, place.height};
    if (!handle_drag(screen, bench, view, selection, sights, place)) {
        handle_camera(view, sights, place);
        take_clicks(sights, place);
    }
    follow_pointer(screen, view, sights, place);
    ImGui::End();
}

void draw_picture(Screen& screen, const Bench& bench, View& view, Selection& selection, Sights& sights,
                  const Rect& place) {
    begin_picture(place);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Readout& live = bench.live();
    if (live.shown) {
        const draw::Viewport viewport{static_cast<int>(place.x), static_cast<int>(place.y),
                                      static_cast<int>(place.width), static_cast<int>(place.height)};
        draw::OverlayWords words = overlay_words(screen, bench, view, selection, sights);
        words.taken = patch_boxes(screen, bench, view, selection, sights, place);
        words.taken.push_back(part_bar_box(screen, sights, place, words.taken));
        draw::draw_overlay(list, live.shown->description, live.shown->pose, view.camera,
                           picture_style(screen, bench, view, selection, sights), viewport, words, screen.scale());
    }
    draw_handles(screen, bench, view, selection, sights, list, place);
    draw_ball_pick(screen, bench, view, selection, list, place);
    draw_places(screen, bench, view, sights, list, place);
    draw_patches(screen, bench, view, selection, sights, list, place);
    draw_notice(screen, list, place);
    draw_note(screen, bench, sights, place);
    draw_place_menu(screen, bench, view, selection, sights);
    ImGui::End();
    const draw::NameBox bar =
        part_bar_box(screen, sights, place, patch_boxes(screen, bench, view, selection, sights, place));
    draw_part_bar(screen, bench, view, selection, sights, {bar.high.x, bar.high.y});
    draw_distance_tool(screen, bench, view, sights, place);
}

}  // namespace swashwright::panels
