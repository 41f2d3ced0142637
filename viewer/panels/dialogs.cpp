#include <imgui.h>

#include <algorithm>
#include <array>

#include "viewer/panels/file_dialog.h"
#include "viewer/panels/panels.h"
#include "viewer/panels/shortcuts.h"
#include "viewer/panels/state.h"

namespace swashwright::panels {

namespace {

// Common practice, no source.
constexpr std::array<const char*, 5> cautions{
    "Disconnect the motor, or take the main blades off, before power goes on at the bench.",
    "Check the blade retaining bolts, the spindle bolts and their thread lock after every change.",
    "Verify on the model, not on the screen: this program knows only the numbers that it was given.",
    "Follow the maker's manual, the rules where you fly, and your club.",
    "A blade that lets go can kill. Keep out of the plane of the rotor, and keep others out of it."};

void safety_text(State& state) {
    const float scale = state.scale();
    for (const char* caution : cautions) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::GetWindowDrawList()->AddRectFilled({at.x + 2 * scale, at.y + 7 * scale},
                                                  {at.x + 9 * scale, at.y + 14 * scale}, state.inks().ink);
        ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 20 * scale);
        ImGui::TextWrapped("%s", caution);
    }
}

void safety(State& state) {
    heading(state, "Before you work on a rotor head");
    safety_text(state);
    ImGui::Spacing();
    if (word_button(state, "read", "I have read this", nullptr) || (confirmed() && !state.dialog_opening)) {
        state.settings.safety_read = true;
        remember_settings(state);
        state.dialog = Dialog::none;
    }
}

void key_list(State& state) {
    if (!ImGui::BeginTable("keys", 4)) return;
    for (const char* side : {"left", "right"}) {
        ImGui::TableSetupColumn(side, ImGuiTableColumnFlags_WidthFixed, 165 * state.scale());
        ImGui::TableSetupColumn("words", ImGuiTableColumnFlags_WidthStretch);
    }
    for (const Shortcut& shortcut : shortcuts()) {
        if (!*shortcut.keys) continue;
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(shortcut.keys);
        ImGui::TableNextColumn();
        ImGui::TextWrapped("%s", shortcut.words);
    }
    ImGui::EndTable();
}

void about(State& state) {
    heading(state, "Swashwright " SWASHWRIGHT_VERSION);
    ImGui::TextWrapped("A bench companion for the rotor head of a collective-pitch model helicopter.");
    if (!state.document.scene().note.empty()) ImGui::TextWrapped("This scene: %s", state.document.scene().note.c_str());
    ImGui::Spacing();
    safety_text(state);
    ImGui::Spacing();
    if (ImGui::Checkbox("Camera moves take a moment", &state.settings.camera_moves)) remember_settings(state);
    ImGui::Spacing();
    ImGui::TextWrapped(
        "Picture: left drag turns, right or middle drag moves, wheel comes closer, a click lights a part.");
    key_list(state);
    ImGui::Spacing();
    if (word_button(state, "close", "Close", nullptr) || dismissed() || confirmed()) state.dialog = Dialog::none;
}

/// Work that a program left behind when it came to a bad end.
void left_work(State& state) {
    if (state.left_work.empty()) {
        state.dialog = Dialog::none;
        return;
    }
    const document::LeftWork& work = state.left_work.front();
    heading(state, "There is work that was not saved");
    const char* what = !work.has_scene()       ? "Calliper readings, typed beside"
                       : work.readings.empty() ? "Changes of"
                                               : "Calliper readings, and changes of";
    ImGui::TextWrapped("The program stopped before this was saved. %s %s, kept at %s:", what, work.path.c_str(),
                       work.when.c_str());
    if (!state.dialog_error.empty()) ImGui::TextWrapped("%s", state.dialog_error.c_str());
    ImGui::Spacing();
    if (word_button(state, "take up", "Take it up again", nullptr) || (confirmed() && !state.dialog_opening)) {
        take_up_left_work(state);
        return;
    }
    ImGui::SameLine();
    if (word_button(state, "throw away", "Throw it away", nullptr)) {
        document::remove_left_work(work);
        state.left_work.erase(state.left_work.begin());
        return;
    }
    ImGui::SameLine();
    if (word_button(state, "later", "Ask at the next start", nullptr) || dismissed()) {
        state.left_work.clear();
        state.dialog = Dialog::none;
    }
}

void close(State& state) {
    heading(state, "There are changes that are not saved");
    if (state.document.unsaved()) ImGui::TextWrapped("%s", state.document.path().c_str());
    if (readings_unsaved(state)) ImGui::TextWrapped("The calliper readings that were typed in.");
    ImGui::Spacing();
    if (word_button(state, "save and leave", "Save and leave", nullptr)) {
        state.dialog = Dialog::none;
        if (state.document.unsaved()) save_scene(state, state.document.path());
        if (state.dialog == Dialog::none && readings_unsaved(state)) save_measured(state);
        if (state.dialog == Dialog::none && readings_unsaved(state)) {
            state.sheet = Sheet::measure;  // it says why they were not saved
        } else {
            state.close_wanted = state.dialog == Dialog::none;
        }
    }
    ImGui::SameLine();
    if (word_button(state, "leave", "Leave without saving", nullptr)) {
        state.leave = true;
        state.dialog = Dialog::none;
    }
    ImGui::SameLine();
    if (word_button(state, "stay", "Stay", nullptr) || dismissed()) state.dialog = Dialog::none;
}

void content(State& state) {
    switch (state.dialog) {
        case Dialog::none:
            break;
        case Dialog::safety:
            return safety(state);
        case Dialog::about:
            return about(state);
        case Dialog::open:
            return file_dialog(state, "Open a scene file",
                               state.document.unsaved() ? "Open and lose the changes" : "Open", open_scene);
        case Dialog::save:
            return file_dialog(state, "Save the scene as", "Save", save_scene);
        case Dialog::compare:
            return file_dialog(state, "Compare with a scene file", "Compare", compare_with_file);
        case Dialog::sheet:
            return file_dialog(state, "Write the build sheet as PDF", "Write", write_sheet);
        case Dialog::close:
            return close(state);
        case Dialog::left_work:
            return left_work(state);
    }
}

}  // namespace

void draw_dialogs(State& state, ImVec2 window) {
    if (state.dialog == Dialog::none) return;
    if (!ImGui::IsPopupOpen("dialog")) ImGui::OpenPopup("dialog");
    const float scale = state.scale();
    ImGui::SetNextWindowPos({window.x / 2, window.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
    const float width = std::min(900 * scale, window.x - 40);
    ImGui::SetNextWindowSizeConstraints({width, 0}, {width, window.y - 20});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(24 * scale, 20 * scale));
    if (ImGui::BeginPopupModal("dialog", nullptr,
                               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoCollapse |
                                   ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoMove |
                                   ImGuiWindowFlags_NoSavedSettings)) {
        const bool was_opening = state.dialog_opening;
        content(state);
        if (was_opening) state.dialog_opening = false;
        if (state.dialog == Dialog::none) ImGui::CloseCurrentPopup();
        ImGui::EndPopup();
    }
    ImGui::PopStyleVar();
}

}  // namespace swashwright::panels
