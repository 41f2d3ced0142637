#include "viewer/panels/files/file_dialog.h"

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <filesystem>
#include <string_view>

#include "viewer/document/data_folder.h"
#include "viewer/document/own_files.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

namespace {

/// Its ring is seen before it is chosen.
bool radio_button(const Screen& screen, const char* words, bool on) {
    ImGui::PushStyleColor(ImGuiCol_Border, screen.inks().soft);
    const bool pressed = ImGui::RadioButton(words, on);
    ImGui::PopStyleColor();
    return pressed;
}

/// A line that can be chosen; a long path is cut at its front. True when it is pressed.
bool choice_line(Screen& screen, const std::string& id, const std::string& words, bool chosen) {
    const float width = ImGui::GetContentRegionAvail().x;
    std::string shown = words;
    while (shown.size() > 8 && ImGui::CalcTextSize(shown.c_str()).x > width) shown = "\xE2\x80\xA6" + shown.substr(5);
    ImGui::PushID(id.c_str());
    const bool pressed = ImGui::Selectable(shown.c_str(), chosen, ImGuiSelectableFlags_DontClosePopups);
    ImGui::PopID();
    key_stop(screen, Keyboard::Kind::row, ImGui::GetID("choices"));
    screen.report.item("choice " + words);
    return pressed;
}

void recent_scenes(Screen& screen, Dialogs& dialogs) {
    ImGui::TextDisabled("Used last");
    for (const std::string& path : screen.settings.recent)
        if (choice_line(screen, "recent " + path, path, path == dialogs.path)) dialogs.path = path;
}

void paper_choice(Screen& screen) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Paper");
    for (const auto& [words, letter] : {std::pair{"A4", false}, {"Letter", true}}) {
        ImGui::SameLine();
        if (radio_button(screen, words, screen.settings.letter == letter)) {
            screen.settings.letter = letter;
            remember_settings(screen);
        }
        key_stop(screen);
        screen.report.item(std::string("paper ") + words);
    }
}

/// The build sheet, or the card for the field box; the name of the file follows while it is the one proposed.
void sheet_choice(Screen& screen, Dialogs& dialogs) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(document::files_are_apart() ? "Print" : "Write");
    for (const auto& [words, card] : {std::pair{"the build sheet", false}, {"the card for the field box", true}}) {
        ImGui::SameLine();
        if (radio_button(screen, words, dialogs.card == card) && dialogs.card != card) {
            const std::string_view old_end = card ? ".pdf" : ".card.pdf", new_end = card ? ".card.pdf" : ".pdf";
            if (dialogs.path.ends_with(old_end))
                dialogs.path.replace(dialogs.path.size() - old_end.size(), old_end.size(), new_end);
            dialogs.card = card;
        }
        key_stop(screen);
        screen.report.item(std::string("print ") + words);
    }
}

void picture_size(Screen& screen, Dialogs& dialogs) {
    for (const auto& [words, times] : {std::pair{"As large as in the window", 1}, {"Twice as large", 2}}) {
        if (times > 1) ImGui::SameLine();
        if (radio_button(screen, words, dialogs.times == times)) dialogs.times = times;
        key_stop(screen);
        screen.report.item(words);
    }
}

/// A press on a folder goes there, on a file takes its name; a name typed for saving goes along.
void folder_content(Screen& screen, Dialogs& dialogs) {
    ImGui::TextDisabled("In this folder");
    std::string go_to;
    for (const FileChoice& choice : dialogs.choices)
        if (choice_line(screen, choice.path, choice.words, choice.path == dialogs.path)) {
            if (choice.folder)
                go_to = choice.path;
            else
                dialogs.path = choice.path;
        }
    if (go_to.empty()) return;
    const std::string name =
        makes_file(dialogs.open) ? std::filesystem::path(dialogs.path).filename().string() : std::string();
    dialogs.path = (std::filesystem::path(go_to) / name).string();
    dialogs.choices = files_beside(go_to, ending_of(dialogs.open));
}

void choices(Screen& screen, Dialogs& dialogs) {
    const float height = 11 * ImGui::GetTextLineHeightWithSpacing();
    const bool scenes = dialogs.open == Dialog::open || dialogs.open == Dialog::compare;
    const bool recent = scenes && !screen.settings.recent.empty();
    if (!ImGui::BeginTable("choices", recent ? 2 : 1, ImGuiTableFlags_SizingStretchSame)) return;
    ImGui::TableNextColumn();
    ImGui::BeginChild("folder", {0, height});
    folder_content(screen, dialogs);
    ImGui::EndChild();
    if (recent) {
        ImGui::TableNextColumn();
        ImGui::BeginChild("recent", {0, height});
        recent_scenes(screen, dialogs);
        ImGui::EndChild();
    }
    ImGui::EndTable();
}

}  // namespace

void heading(const Screen& screen, const char* words) {
    ImGui::PushFont(screen.fonts.heading);
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

namespace {

/// The field for the path, and what can be pressed in its place. True if Enter was pressed in it.
bool path_field(Screen& screen, Dialogs& dialogs) {
    if (dialogs.opening) ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(-1);
    // Where something is said of the name, typing goes on where it was.
    const ImGuiInputTextFlags select = dialogs.error.empty() ? ImGuiInputTextFlags_AutoSelectAll : 0;
    const std::string before = dialogs.path;
    const bool entered = ImGui::InputText("##path", &dialogs.path, ImGuiInputTextFlags_EnterReturnsTrue | select);
    key_stop(screen, Keyboard::Kind::text);
    screen.report.item("path");
    choices(screen, dialogs);
    if (dialogs.path != before) {  // what was said is of another name
        dialogs.error.clear();
        dialogs.replace_path.clear();
    }
    return entered;
}

}  // namespace

std::optional<std::string> file_dialog(Screen& screen, Dialogs& dialogs, const document::Document& document,
                                       const char* title, const char* verb) {
    heading(screen, title);
    const bool printed = dialogs.open == Dialog::sheet && document::files_are_apart();  // then it becomes no file
    const bool entered = printed ? confirmed() && !dialogs.opening : path_field(screen, dialogs);
    if (dialogs.open == Dialog::sheet) sheet_choice(screen, dialogs), paper_choice(screen);
    if (dialogs.open == Dialog::sheet && screen.settings.inches) ImGui::TextWrapped("On paper lengths are in mm.");
    if (dialogs.open == Dialog::save_picture) picture_size(screen, dialogs);
    if (dialogs.open == Dialog::save && document::came_with_program(document.path()))
        ImGui::TextWrapped("This head came with the program and stays as it is: your own gets a name of its own.");
    if (!dialogs.error.empty()) {
        ImGui::PushStyleColor(ImGuiCol_Text, screen.inks().trouble);
        ImGui::TextWrapped("%s", dialogs.error.c_str());
        ImGui::PopStyleColor();
    }
    ImGui::Spacing();
    if (document::files_are_apart() && !makes_file(dialogs.open)) {
        if (word_button(screen, "hand in", "From this computer", nullptr)) document::ask_for_files();
        ImGui::SameLine();
    }
    const bool pressed = word_button(screen, "do", verb, nullptr);
    ImGui::SameLine();
    if (word_button(screen, "cancel", "Cancel", nullptr) || dismissed()) {
        dialogs.open = Dialog::none;
        return std::nullopt;
    }
    // To replace a file takes a press: Enter, that may be held down, does not.
    const bool replaces = !dialogs.replace_path.empty() && dialogs.path == dialogs.replace_path;
    if (!pressed && (!entered || replaces)) return std::nullopt;
    std::error_code none;
    if (!std::filesystem::is_directory(dialogs.path, none)) return dialogs.path;
    dialogs.choices = files_beside(dialogs.path, ending_of(dialogs.open));
    dialogs.opening = true;  // the keyboard stays with the name
    return std::nullopt;
}

}  // namespace swashwright::panels
