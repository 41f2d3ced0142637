#include "viewer/panels/window/new_head.h"

#include <imgui.h>

#include "viewer/document/layouts.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/files/file_dialog.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/state.h"
#include "viewer/panels/window/unsaved.h"

namespace swashwright::panels {

namespace {

void show_layout(State& state, const document::Layout& layout) {
    auto scene = document::scene_of(layout);
    if (!scene) {
        ask(state, Dialog::new_head);
        state.dialogs.error = scene.error().text();
        return;
    }
    show_new(state, std::move(*scene));
    state.sheet = Sheet::parts;
    tell(state.screen,
         "An invented head in ordinary proportions. Type your own numbers over it; it is in no file yet.");
}

/// Up and down go through the list, Enter takes what is marked.
void follow_keys(Dialogs& dialogs, std::size_t count) {
    const auto pressed = [](ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetIO().KeyMap[key]); };
    if (pressed(ImGuiKey_DownArrow)) dialogs.chosen = (dialogs.chosen + 1) % count;
    if (pressed(ImGuiKey_UpArrow)) dialogs.chosen = (dialogs.chosen + count - 1) % count;
}

}  // namespace

void draw_new_head(State& state) {
    heading(state.screen, "A new head");
    ImGui::TextWrapped(
        "Each is a whole head in ordinary proportions, and invented: its numbers belong to no real model. Type your "
        "own "
        "over them.");
    ImGui::Spacing();
    const auto& all = document::layouts();
    Dialogs& dialogs = state.dialogs;
    follow_keys(dialogs, all.size());
    std::optional<std::size_t> taken;
    if (ImGui::BeginTable("layouts", 2)) {
        ImGui::TableSetupColumn("words", ImGuiTableColumnFlags_WidthFixed, 210 * state.screen.scale());
        ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthStretch);
        for (std::size_t i = 0; i < all.size(); ++i) {
            ImGui::TableNextColumn();
            if (word_button(state.screen, ("layout " + all[i].words).c_str(), all[i].words.c_str(), nullptr, true,
                            i == dialogs.chosen))
                taken = i;
            ImGui::TableNextColumn();
            ImGui::AlignTextToFramePadding();
            ImGui::TextWrapped("%s", all[i].what.c_str());
        }
        ImGui::EndTable();
    }
    if (!dialogs.error.empty()) ImGui::TextWrapped("%s", dialogs.error.c_str());
    ImGui::Spacing();
    if (word_button(state.screen, "cancel", "Cancel", nullptr) || dismissed()) {
        dialogs.open = Dialog::none;
        return;
    }
    same_line_if_it_fits("Up, down and Enter choose, Esc cancels", 18 * state.screen.scale());
    ImGui::TextDisabled("Up, down and Enter choose, Esc cancels");
    if (confirmed() && !dialogs.opening) taken = dialogs.chosen;
    if (!taken) return;
    dialogs.open = Dialog::none;
    with_work_safe(state, all_work, [layout = all[*taken]](State& s) { show_layout(s, layout); });
}

}  // namespace swashwright::panels
