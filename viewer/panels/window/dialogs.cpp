#include <imgui.h>

#include <algorithm>
#include <array>
#include <utility>

#include "viewer/document/own_files.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/files/file_dialog.h"
#include "viewer/panels/questions/tick_box.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/new_head.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/picture_file.h"
#include "viewer/panels/window/readings_files.h"
#include "viewer/panels/window/shortcuts.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

// Common practice, no source.
constexpr std::array<const char*, 5> cautions{
    "Disconnect the motor before power goes on at the bench. Take the main blades off too unless the step needs them.",
    "Check the blade retaining bolts, the spindle bolts and their thread lock after every change, and fit new spindle "
    "bolts after every crash.",
    "Verify on the model, not on the screen: this program knows only the numbers that it was given.",
    "Follow the maker's manual, the rules where you fly, and your club.",
    "A blade that lets go can kill. Keep out of the plane of the rotor, above all your head, and keep others out of "
    "it."};

/// Words behind a small square.
void point(State& state, const char* words) {
    const float scale = state.screen.scale();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddRectFilled({at.x + 2 * scale, at.y + 7 * scale},
                                              {at.x + 9 * scale, at.y + 14 * scale}, state.screen.inks().ink);
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + 20 * scale);
    ImGui::TextWrapped("%s", words);
}

void safety_text(State& state) {
    for (const char* caution : cautions) point(state, caution);
}

void safety(State& state) {
    heading(state.screen, "Before you work on a rotor head");
    safety_text(state);
    ImGui::Spacing();
    if (word_button(state.screen, "read", "I have read this", nullptr) || (confirmed() && !state.dialogs.opening)) {
        state.screen.settings.safety_read = true;
        remember_settings(state.screen);
        state.dialogs.open = Dialog::none;
    }
}

void key_list(State& state) {
    if (!ImGui::BeginTable("keys", 4)) return;
    for (const char* side : {"left", "right"}) {
        ImGui::TableSetupColumn(side, ImGuiTableColumnFlags_WidthFixed, 165 * state.screen.scale());
        ImGui::TableSetupColumn("words", ImGuiTableColumnFlags_WidthStretch);
    }
    for (const Shortcut& shortcut : shortcuts()) {
        if (!*shortcut.keys || kept_by_browser(shortcut)) continue;
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(shortcut.keys);
        ImGui::TableNextColumn();
        ImGui::TextWrapped("%s", shortcut.words);
    }
    ImGui::EndTable();
}

/// Where large text leaves no room for all of it.
void scroll_by_keys() {
    const auto pressed = [](ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetIO().KeyMap[key]); };
    const float page = 0.8F * ImGui::GetWindowHeight(), line = 2 * ImGui::GetTextLineHeight();
    if (pressed(ImGuiKey_PageDown)) ImGui::SetScrollY(ImGui::GetScrollY() + page);
    if (pressed(ImGuiKey_PageUp)) ImGui::SetScrollY(ImGui::GetScrollY() - page);
    if (pressed(ImGuiKey_DownArrow)) ImGui::SetScrollY(ImGui::GetScrollY() + line);
    if (pressed(ImGuiKey_UpArrow)) ImGui::SetScrollY(ImGui::GetScrollY() - line);
}

void about(State& state) {
    scroll_by_keys();
    heading(state.screen, "Swashwright " SWASHWRIGHT_VERSION);
    ImGui::TextWrapped("A bench companion for the rotor head of a collective-pitch model helicopter.");
    if (!state.bench.document().scene().note.empty())
        ImGui::TextWrapped("This head: %s", state.bench.document().scene().note.c_str());
    ImGui::Spacing();
    safety_text(state);
    ImGui::Spacing();
    ImGui::TextDisabled("Setting: how the picture moves");
    bool& gradually = state.screen.settings.camera_moves;
    if (tick_box(state.screen, "camera moves", "Turn to another view gradually, not at once", nullptr, gradually,
                 /*beside=*/false)) {
        gradually = !gradually;
        remember_settings(state.screen);
    }
    ImGui::Spacing();
    ImGui::TextWrapped(
        "Picture: left drag turns, right or middle drag moves, the wheel comes closer to what is under the pointer. A "
        "click chooses a part, a double click lets it fill the picture, a right click asks what to do with it. A "
        "chosen blade, ring or horn has round handles: drag one, and the sticks follow; with Shift a blade takes the "
        "cyclic stick, and Esc, before you let go, puts everything back.");
    key_list(state);
    ImGui::Spacing();
    if (word_button(state.screen, "close", "Close", nullptr) || dismissed() || confirmed())
        state.dialogs.open = Dialog::none;
}

void list_work(State& state, Work work) {
    for (const auto& [there, words] : {std::pair{work.scene, "changes of the head"},
                                       {work.gauge, "gauge readings that were typed in"},
                                       {work.calliper, "calliper readings that were typed in"},
                                       {work.places, "calliper readings on the open head"}})
        if (there) point(state, words);
}

/// Work that a program left behind when it came to a bad end.
void left_work(State& state) {
    if (state.left_work.empty()) {
        state.dialogs.open = Dialog::none;
        return;
    }
    const document::LeftWork& work = state.left_work.front();
    // A round of practice alone stays after an ordinary exit, too.
    const bool round_alone = !work.has_scene() && !work.has_readings();
    heading(state.screen, round_alone ? "A round of practice goes on" : "There is work that was not saved");
    ImGui::TextWrapped(
        "%s at %s, with the head of %s:", round_alone ? "It was left" : "The program stopped before this was saved,",
        work.when.c_str(), work.path.c_str());
    list_work(state, {work.has_scene(), !work.gauge.empty(), !work.readings.empty(), !work.places.empty()});
    if (!work.practice.empty()) point(state, "a round of practice, with what was read in it");
    if (!state.dialogs.error.empty()) ImGui::TextWrapped("%s", state.dialogs.error.c_str());
    ImGui::Spacing();
    if (word_button(state.screen, "take up", "Take it up again", nullptr) || (confirmed() && !state.dialogs.opening)) {
        take_up_left_work(state);
        return;
    }
    ImGui::SameLine();
    if (word_button(state.screen, "throw away", "Throw it away", nullptr)) {
        document::remove_left_work(work);
        state.left_work.erase(state.left_work.begin());
        return;
    }
    ImGui::SameLine();
    if (word_button(state.screen, "later", "Ask at the next start", nullptr) || dismissed()) {
        state.left_work.clear();
        state.dialogs.open = Dialog::none;
    }
}

/// Before a step that would lose work. Enter saves; nothing but the press on its words lets the work go.
void unsaved(State& state) {
    heading(state.screen, "There is work that is not saved");
    ImGui::TextWrapped("With the head of %s:", state.bench.document().path().c_str());
    list_work(state, at_stake(state));
    ImGui::Spacing();
    if (word_button(state.screen, "save first", "Save first", nullptr) || (confirmed() && !state.dialogs.opening)) {
        state.dialogs.open = Dialog::none;
        go_on(state);
        return;
    }
    ImGui::SameLine();
    if (word_button(state.screen, "do not save", "Don't save", nullptr)) {
        state.dialogs.open = Dialog::none;
        go_on_unsaved(state);
        return;
    }
    ImGui::SameLine();
    if (word_button(state.screen, "cancel", "Cancel", nullptr) || dismissed()) {
        state.dialogs.open = Dialog::none;
        state.waiting.reset();
    }
    same_line_if_it_fits("Enter saves first, Esc cancels", 18 * state.screen.scale());
    ImGui::TextDisabled("Enter saves first, Esc cancels");
}

void compare_with(State& state, const std::string& path) {
    if (const auto read = compare_with_file(state.compare, path))
        state.dialogs.open = Dialog::none;
    else
        state.dialogs.error = read.error();
}

/// A dialog that asks for a file, and what is done with its answer.
void for_file(State& state, const char* title, const char* verb, void (*act)(State&, const std::string&)) {
    if (const auto path = file_dialog(state.screen, state.dialogs, state.bench.document(), title, verb)) {
        act(state, *path);
        if (state.dialogs.open != Dialog::none) state.dialogs.opening = true;  // the keyboard stays with the name
    } else if (state.dialogs.open == Dialog::none) {
        state.waiting.reset();
    }
}

void content(State& state) {
    switch (state.dialogs.open) {
        case Dialog::none:
            break;
        case Dialog::safety:
            return safety(state);
        case Dialog::about:
            return about(state);
        case Dialog::open:
            return for_file(state, "Open a head, or readings", "Open", open_file);
        case Dialog::read:
            return for_file(state, "Open readings", "Open", open_file);
        case Dialog::save:
            return for_file(state, "Save the head as", "Save", save_scene);
        case Dialog::save_gauge:
            return for_file(state, "Save the gauge readings as", "Save", save_gauge_as);
        case Dialog::save_calliper:
            return for_file(state, "Save the calliper readings as", "Save", save_measured_as);
        case Dialog::save_places:
            return for_file(state, "Save the calliper readings as", "Save", save_places_as);
        case Dialog::save_picture:
            return for_file(state, "Save the picture as", "Save", save_picture_as);
        case Dialog::compare:
            return for_file(state, "Compare with a head file", "Compare", compare_with);
        case Dialog::sheet:
            if (document::files_are_apart())
                return for_file(state,
                                state.dialogs.card ? "Print the card for the field box" : "Print the build sheet",
                                "Print", write_sheet);
            return for_file(
                state, state.dialogs.card ? "Write the card for the field box as PDF" : "Write the build sheet as PDF",
                "Write", write_sheet);
        case Dialog::unsaved:
            return unsaved(state);
        case Dialog::left_work:
            return left_work(state);
        case Dialog::new_head:
            return draw_new_head(state);
    }
}

}  // namespace

void draw_dialogs(State& state, ImVec2 window) {
    if (state.dialogs.open == Dialog::none) return;
    if (!ImGui::IsPopupOpen("dialog")) ImGui::OpenPopup("dialog");
    const float scale = state.screen.scale();
    ImGui::SetNextWindowPos({window.x / 2, window.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
    const float width = std::min(900 * scale, window.x - 40);
    ImGui::SetNextWindowSizeConstraints({width, 0}, {width, window.y - 20});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(24 * scale, 20 * scale));
    if (ImGui::BeginPopupModal("dialog", nullptr,
                               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoCollapse |
                                   ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoMove |
                                   ImGuiWindowFlags_NoSavedSettings)) {
        const bool was_opening = state.dialogs.opening;
        content(state);
        if (was_opening) state.dialogs.opening = false;
        if (state.dialogs.open == Dialog::none) ImGui::CloseCurrentPopup();
        ImGui::EndPopup();
    }
    ImGui::PopStyleVar();
}

}  // namespace swashwright::panels
