#include <algorithm>
#include <array>

#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

constexpr float card_height = 208, least_ledger_height = 180;

struct SheetWord {
    Sheet sheet;
    const char *id, *word, *tip;
    void (*draw)(State&);
};
constexpr std::array<SheetWord, 5> sheets{
    {{Sheet::parts, "parts", "Parts", "Every measured number of the head", draw_ledger},
     {Sheet::questions, "questions", "Questions", "What to set, by how much, and which part is wrong (Q)",
      draw_questions},
     {Sheet::lessons, "lessons", "Lessons", "How a head works, step by step, on a head of their own (G)", draw_lessons},
     {Sheet::measure, "measure", "Measure", "A new head from calliper readings, step by step (M)", draw_measure},
     {Sheet::compare, "compare", "Compare", "With another head, or with this one as it was (C)", draw_compare}}};

void draw_sheet_words(State& state) {
    const ImVec2 padding = ImGui::GetStyle().FramePadding;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0.7F * padding.x, padding.y));
    for (const SheetWord& sheet : sheets) {
        if (sheet.sheet != Sheet::parts) same_line_if_it_fits(sheet.word, 2);
        if (word_button(state, sheet.id, sheet.word, sheet.tip, true, state.sheet == sheet.sheet))
            state.sheet = sheet.sheet;
    }
    ImGui::PopStyleVar();
    const ImVec2 at{0, ImGui::GetItemRectMax().y + 5 * state.scale()};
    rule(state, {ImGui::GetWindowPos().x, at.y}, {ImGui::GetWindowPos().x + ImGui::GetWindowWidth(), at.y});
    ImGui::Dummy({0, 2 * state.scale()});
}

}  // namespace

void draw_column(State& state, const Rect& place) {
    follow_parts(state);  // undo, or another scene, may have put other parts here
    const float scale = state.scale(), card = card_height * scale;
    begin_panel("column", place, /*scrolls=*/true);
    rule(state, {place.x, place.y}, {place.x, place.bottom()});
    draw_sheet_words(state);
    const SheetWord& sheet = *std::ranges::find(sheets, state.sheet, &SheetWord::sheet);
    const bool parts = state.sheet == Sheet::parts;  // the other sheets want the room
    if (parts)
        draw_live_numbers(state);
    else
        draw_part_numbers(state);
    ImGui::Spacing();
    // In a low window everything scrolls together; else what stands around the list stays and the list scrolls.
    const float below = parts ? card + ImGui::GetStyle().ItemSpacing.y : 0;
    const float left = ImGui::GetContentRegionAvail().y - below;
    if (left < least_ledger_height * scale) {
        sheet.draw(state);
    } else {
        ImGui::BeginChild(sheet.id, {0, left});
        sheet.draw(state);
        ImGui::EndChild();
    }
    if (parts) draw_turn_card(state, card);
    ImGui::End();
}

}  // namespace swashwright::panels
