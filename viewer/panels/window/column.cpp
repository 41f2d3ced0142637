#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "viewer/panels/base/widgets.h"
#include "viewer/panels/lessons/lesson_page.h"
#include "viewer/panels/measure/measure_page.h"
#include "viewer/panels/measure/places_page.h"
#include "viewer/panels/picture/picture_panels.h"
#include "viewer/panels/questions/question_cards.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

constexpr float card_height = 208, least_ledger_height = 180;

struct SheetWord {
    Sheet sheet;
    const char *id, *word, *tip;
};
constexpr std::array<SheetWord, 5> sheets{
    {{Sheet::parts, "parts", "Parts", "Every measured number of the head"},
     {Sheet::questions, "questions", "Questions", "What to set, by how much, and which part is wrong (Q)"},
     {Sheet::lessons, "lessons", "Lessons", "How a head works, step by step, on a head of their own (G)"},
     {Sheet::measure, "measure", "Measure", "A head from calliper readings, step by step (M)"},
     {Sheet::compare, "compare", "Compare", "With another head, or with this one as it was (C)"}}};

/// A state of the log may have other parts than the open head.
void draw_compare_sheet(State& s) {
    const std::uint64_t revision = s.bench.document().revision();
    const head::Description before = s.bench.head();
    draw_compare(s.screen, s.bench, s.selection, s.compare, s.wishes);
    if (s.bench.document().revision() != revision) forget_renumbered(s.view, before, s.bench.head(), /*put_back=*/true);
}

void draw_sheet(State& s) {
    switch (s.sheet) {
        case Sheet::parts:
            return draw_ledger(s.screen, s.bench, s.view, s.selection, s.ledger);
        case Sheet::questions:
            return draw_questions(s.screen, s.bench, s.selection, s.gauge, s.questions, s.wishes);
        case Sheet::lessons:
            draw_lessons(s.screen, s.bench, s.view, s.selection, s.lessons);
            if (std::exchange(s.lessons.one_at_a_time, false)) go_to_bench(s, BenchList::after_crash);
            return;
        case Sheet::measure:
            measure_choice(s.screen, s.places);
            if (!s.places.shown) return draw_measure(s.screen, s.measure, s.wishes);
            return draw_places(s.screen, users_document(s.bench, s.lessons), s.selection, s.places, s.wishes);
        case Sheet::compare:
            return draw_compare_sheet(s);
    }
}

/// What stands above the sheet; its height.
float draw_numbers(State& state) {
    const float top = ImGui::GetCursorPosY();
    if (state.sheet == Sheet::parts)
        draw_live_numbers(state.screen, state.bench, state.selection);
    else
        draw_part_numbers(state.screen, state.bench, state.selection, state.ledger);
    ImGui::Spacing();
    return ImGui::GetCursorPosY() - top;
}

void draw_sheet_words(State& state) {
    constexpr float between = 2;
    const ImVec2 padding = ImGui::GetStyle().FramePadding;
    float left = ImGui::GetContentRegionAvail().x + between;
    for (const SheetWord& sheet : sheets) left -= ImGui::CalcTextSize(sheet.word).x + between;
    // All on one line as long as a little is left round each.
    const float aside =
        std::clamp(std::floor(left / (2.0F * static_cast<float>(sheets.size()))), 0.2F * padding.x, 0.7F * padding.x);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(aside, padding.y));
    for (const SheetWord& sheet : sheets) {
        if (sheet.sheet != Sheet::parts) same_line_if_it_fits(sheet.word, between);
        if (word_button(state.screen, sheet.id, sheet.word, sheet.tip, true, state.sheet == sheet.sheet))
            state.sheet = sheet.sheet;
        state.screen.keyboard.one_of(ImGui::GetID("sheets"));
    }
    ImGui::PopStyleVar();
    const ImVec2 at{0, ImGui::GetItemRectMax().y + 5 * state.screen.scale()};
    rule(state.screen, {ImGui::GetWindowPos().x, at.y}, {ImGui::GetWindowPos().x + ImGui::GetWindowWidth(), at.y});
    ImGui::Dummy({0, 2 * state.screen.scale()});
}

}  // namespace

void draw_column(State& state, const Rect& place) {
    follow_parts(state.bench, state.selection, state.ledger);  // undo, or another scene, may have put other parts here
    if (place.width <= 0) return;
    const float scale = state.screen.scale(), card = card_height * scale;
    begin_panel("column", place, /*scrolls=*/true);
    rule(state.screen, {place.x, place.y}, {place.x, place.bottom()});
    draw_sheet_words(state);
    const SheetWord& sheet = *std::ranges::find(sheets, state.sheet, &SheetWord::sheet);
    const bool parts = state.sheet == Sheet::parts;  // the other sheets want the room
    // In a low window all below the words scrolls together; else what stands around the list stays and the list
    // scrolls.
    const ImGuiID numbers = ImGui::GetID("numbers");
    float numbers_height = ImGui::GetStateStorage()->GetFloat(numbers);  // as drawn last
    const float below = parts ? card + ImGui::GetStyle().ItemSpacing.y : 0;
    const bool low = ImGui::GetContentRegionAvail().y - numbers_height - below < least_ledger_height * scale;
    if (!low) numbers_height = draw_numbers(state);
    ImGui::BeginChild(sheet.id, {0, low ? 0 : ImGui::GetContentRegionAvail().y - below});
    if (low) numbers_height = draw_numbers(state);
    draw_sheet(state);
    if (parts && low) draw_turn_card(state.screen, state.bench, card);
    ImGui::EndChild();
    ImGui::GetStateStorage()->SetFloat(numbers, numbers_height);
    if (parts && !low) draw_turn_card(state.screen, state.bench, card);
    // A ball that was clicked for a form which is not drawn any more is nobody's.
    if (state.selection.pick && state.selection.pick->ball) state.selection.pick.reset();
    ImGui::End();
}

}  // namespace swashwright::panels
