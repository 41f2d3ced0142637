#include <algorithm>

#include "viewer/panels/panels.h"
#include "viewer/panels/state.h"

namespace swashwright::panels {

namespace {

constexpr float card_height = 232, least_ledger_height = 180;

}  // namespace

namespace {

void draw_list(State& state) {
    if (state.asking)
        draw_questions(state);
    else
        draw_ledger(state);
}

}  // namespace

void draw_column(State& state, const Rect& place) {
    const float scale = state.scale(), card = card_height * scale;
    begin_panel("column", place, /*scrolls=*/true);
    rule(state, {place.x, place.y}, {place.x, place.bottom()});
    if (!state.asking) {  // answers want the room
        draw_live_numbers(state);
        ImGui::Spacing();
    }
    // In a low window everything scrolls together; else what stands around the list stays and the list scrolls.
    const float below = state.asking ? 0 : card + ImGui::GetStyle().ItemSpacing.y;
    const float left = ImGui::GetContentRegionAvail().y - below;
    if (left < least_ledger_height * scale) {
        draw_list(state);
    } else {
        ImGui::BeginChild(state.asking ? "questions" : "ledger", {0, left});
        draw_list(state);
        ImGui::EndChild();
    }
    if (!state.asking) draw_turn_card(state, card);
    ImGui::End();
}

}  // namespace swashwright::panels
