#include <algorithm>

#include "viewer/panels/panels.h"
#include "viewer/panels/state.h"

namespace swashwright::panels {

namespace {

constexpr float card_height = 232, least_ledger_height = 180;

}  // namespace

void draw_column(State& state, const Rect& place) {
    const float scale = state.scale(), card = card_height * scale;
    begin_panel("column", place, /*scrolls=*/true);
    rule(state, {place.x, place.y}, {place.x, place.bottom()});
    draw_live_numbers(state);
    ImGui::Spacing();
    // In a low window everything scrolls together; else live numbers and card stay and the ledger scrolls.
    const float left = ImGui::GetContentRegionAvail().y - card - ImGui::GetStyle().ItemSpacing.y;
    if (left < least_ledger_height * scale) {
        draw_ledger(state);
    } else {
        ImGui::BeginChild("ledger", {0, left});
        draw_ledger(state);
        ImGui::EndChild();
    }
    draw_turn_card(state, card);
    ImGui::End();
}

}  // namespace swashwright::panels
