#include "viewer/panels/window/folds.h"

#include "viewer/panels/base/widgets.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

constexpr float low_window = 660;  // pixels at scale 1: where it is lower, a drawing and its field need the tray's room

bool shows_drawing(const State& state) {
    if (state.sheet == Sheet::measure) return true;
    const scene::Step* step = state.sheet == Sheet::lessons ? shown_step(state.lessons) : nullptr;
    return step && !step->drawing.empty();
}

}  // namespace

void follow_folds(State& state, ImVec2 window) {
    state.folds.cramped = shows_drawing(state) && window.y < low_window * state.screen.scale();
    if (!state.folds.cramped) state.folds.opened = false;
}

bool tray_folded(const State& state) {
    return state.folds.cramped ? !state.folds.opened : state.screen.settings.tray_folded;
}

void toggle_tray(State& state) {
    if (state.folds.cramped) {
        state.folds.opened = !state.folds.opened;
        return;
    }
    state.screen.settings.tray_folded = !state.screen.settings.tray_folded;
    remember_settings(state.screen);
}

void toggle_column(State& state) {
    state.folds.column = !state.folds.column;
}

void draw_folds(State& state, const Rect& place) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));  // it clips by half of it
    begin_panel("folds", place);
    ImGui::PopStyleVar();
    rule(state.screen, {place.x, place.y}, {place.right(), place.y});
    place_at(place.x, place.y + (place.height - ImGui::GetFrameHeight()) / 2 + 1);
    const bool tray = tray_folded(state), column = state.folds.column;
    if (arrow_button(state.screen, "fold tray", tray ? ImGuiDir_Up : ImGuiDir_Down,
                     tray ? "Sticks and rotor to drag (F7)" : "Sticks and rotor as one line of numbers (F7)"))
        toggle_tray(state);
    ImGui::SameLine(0, 2 * state.screen.scale());
    if (arrow_button(
            state.screen, "fold column", column ? ImGuiDir_Left : ImGuiDir_Right,
            column ? "The column beside the picture again (F9)" : "The column away: its room is the picture's (F9)"))
        toggle_column(state);
    ImGui::End();
}

}  // namespace swashwright::panels
