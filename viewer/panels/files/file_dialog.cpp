#include "viewer/panels/files/file_dialog.h"

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <filesystem>

#include "viewer/document/data_folder.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

/// A line that can be chosen; a long path is cut at its front. True when it is pressed.
bool choice_line(State& state, const std::string& id, const std::string& words, bool chosen) {
    const float width = ImGui::GetContentRegionAvail().x;
    std::string shown = words;
    while (shown.size() > 8 && ImGui::CalcTextSize(shown.c_str()).x > width) shown = "\xE2\x80\xA6" + shown.substr(5);
    ImGui::PushID(id.c_str());
    const bool pressed = ImGui::Selectable(shown.c_str(), chosen, ImGuiSelectableFlags_DontClosePopups);
    ImGui::PopID();
    state.report.item("choice " + words);
    return pressed;
}

void recent_scenes(State& state) {
    ImGui::TextDisabled("Used last");
    for (const std::string& path : state.settings.recent)
        if (choice_line(state, "recent " + path, path, path == state.dialog_path)) state.dialog_path = path;
}

bool makes_file(const State& state) {
    switch (state.dialog) {
        case Dialog::save:
        case Dialog::save_gauge:
        case Dialog::save_calliper:
        case Dialog::sheet:
            return true;
        default:
            return false;
    }
}

void paper_choice(State& state) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Paper");
    for (const auto& [words, letter] : {std::pair{"A4", false}, {"Letter", true}}) {
        ImGui::SameLine();
        if (ImGui::RadioButton(words, state.settings.letter == letter)) {
            state.settings.letter = letter;
            remember_settings(state);
        }
        state.report.item(std::string("paper ") + words);
    }
}

/// A press on a folder goes there, on a scene takes its name; a name typed for saving goes along.
void folder_content(State& state) {
    ImGui::TextDisabled("In this folder");
    std::string go_to;
    for (const FileChoice& choice : state.dialog_choices)
        if (choice_line(state, choice.path, choice.words, choice.path == state.dialog_path)) {
            if (choice.folder)
                go_to = choice.path;
            else
                state.dialog_path = choice.path;
        }
    if (go_to.empty()) return;
    const std::string name =
        makes_file(state) ? std::filesystem::path(state.dialog_path).filename().string() : std::string();
    state.dialog_path = (std::filesystem::path(go_to) / name).string();
    state.dialog_choices = scenes_beside(go_to);
}

void choices(State& state) {
    const float height = 11 * ImGui::GetTextLineHeightWithSpacing();
    const bool scenes = state.dialog == Dialog::open || state.dialog == Dialog::compare;
    const bool recent = scenes && !state.settings.recent.empty();
    if (!ImGui::BeginTable("choices", recent ? 2 : 1, ImGuiTableFlags_SizingStretchSame)) return;
    ImGui::TableNextColumn();
    ImGui::BeginChild("folder", {0, height});
    folder_content(state);
    ImGui::EndChild();
    if (recent) {
        ImGui::TableNextColumn();
        ImGui::BeginChild("recent", {0, height});
        recent_scenes(state);
        ImGui::EndChild();
    }
    ImGui::EndTable();
}

}  // namespace

void heading(State& state, const char* words) {
    ImGui::PushFont(state.fonts.heading);
    ImGui::TextUnformatted(words);
    ImGui::PopFont();
    ImGui::Spacing();
}

bool confirmed() {
    return ImGui::IsKeyPressed(ImGui::GetIO().KeyMap[ImGuiKey_Enter], false);
}

bool dismissed() {
    return ImGui::IsKeyPressed(ImGui::GetIO().KeyMap[ImGuiKey_Escape], false);
}

void file_dialog(State& state, const char* title, const char* verb, void (*act)(State&, const std::string&)) {
    heading(state, title);
    if (state.dialog_opening) ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(-1);
    // Where something is said of the name, typing goes on where it was.
    const ImGuiInputTextFlags select = state.dialog_error.empty() ? ImGuiInputTextFlags_AutoSelectAll : 0;
    const std::string before = state.dialog_path;
    const bool entered = ImGui::InputText("##path", &state.dialog_path, ImGuiInputTextFlags_EnterReturnsTrue | select);
    state.report.item("path");
    choices(state);
    if (state.dialog_path != before) {  // what was said is of another name
        state.dialog_error.clear();
        state.replace_path.clear();
    }
    if (state.dialog == Dialog::sheet) paper_choice(state);
    if (state.dialog == Dialog::save && document::came_with_program(state.document.path()))
        ImGui::TextWrapped("This head came with the program and stays as it is: your own gets a name of its own.");
    if (!state.dialog_error.empty()) {
        ImGui::PushStyleColor(ImGuiCol_Text, state.inks().trouble);
        ImGui::TextWrapped("%s", state.dialog_error.c_str());
        ImGui::PopStyleColor();
    }
    ImGui::Spacing();
    const bool pressed = word_button(state, "do", verb, nullptr);
    ImGui::SameLine();
    if (word_button(state, "cancel", "Cancel", nullptr) || dismissed()) {
        state.dialog = Dialog::none;
        state.waiting.reset();
        return;
    }
    // To replace a file takes a press: Enter, that may be held down, does not.
    const bool replaces = !state.replace_path.empty() && state.dialog_path == state.replace_path;
    if (!pressed && (!entered || replaces)) return;
    std::error_code none;
    if (std::filesystem::is_directory(state.dialog_path, none))
        state.dialog_choices = scenes_beside(state.dialog_path);
    else
        act(state, state.dialog_path);
    if (state.dialog != Dialog::none) state.dialog_opening = true;  // the keyboard stays with the name
}

}  // namespace swashwright::panels
