// The questions as cards: title, what can be chosen, the answer in its first line, tables, notes.
#include <fmt/format.h>

#include <utility>

#include "viewer/panels/questions/answer_table.h"
#include "viewer/panels/questions/envelope_map.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

void draw_choices(State& state, Question& question) {
    for (Choice& choice : question.choices) {
        const std::string name = fmt::format("{}, {}", question.key, choice.words);
        ImGui::PushID(choice.words.c_str());
        if (choice.yes_no) {
            const bool on = choice.value > 0;
            const std::string words = fmt::format("{}: {}", choice.words, on ? "yes" : "no");
            if (&choice != question.choices.data())
                same_line_if_it_fits(words.c_str(), ImGui::GetStyle().ItemSpacing.x);
            if (word_button(state, name.c_str(), words.c_str(), nullptr, true, on)) choice.value = on ? 0 : 1;
        } else {
            ImGui::AlignTextToFramePadding();
            ImGui::TextUnformatted(choice.words.c_str());
            ImGui::SameLine();
            double value = choice.value;
            if (number_field(state, "value", value, {.decimals = choice.decimals, .step = choice.step, .width = 72}))
                choice.value = std::clamp(value, choice.low, choice.high);
            state.report.item(name);
            ImGui::SameLine();
            ImGui::TextDisabled("%s", choice.unit.c_str());
        }
        ImGui::PopID();
    }
}

void draw_reply(State& state, Question& question, const Reply& reply) {
    const Inks ink = state.inks();
    paragraph(ink.ink, reply.answer.text);
    state.report.item("answer " + question.key);
    if (reply.proposal && !question.inquiry.running() &&
        word_button(state, (question.key + " proposal").c_str(), reply.proposal_words.c_str(),
                    "One step of undo takes it back")) {
        scene::Scene next = state.document.scene();
        next.head = *reply.proposal;
        state.document.edit(std::move(next), reply.proposal_words);
        state.document.seal();
    }
    if (reply.map) draw_envelope_map(state, *reply.map);
    draw_tables(state, reply.answer, question.key, question.whole);
}

void draw_body(State& state, Question& question) {
    const Inks ink = state.inks();
    if (!question.follows.empty()) paragraph(ink.soft, question.follows);
    draw_choices(state, question);
    if (question.reads_readings) {
        const auto before = state.readings_revision;
        draw_readings(state);
        if (state.readings_revision != before) question.show = frames_to_show;
    }
    if (question.inquiry.running()) {
        ImGui::AlignTextToFramePadding();
        const int percent = question.inquiry.percent();
        ImGui::TextDisabled("%s",
                            percent > 0 ? fmt::format("Working it out, {} %", percent).c_str() : "Working it out");
        ImGui::SameLine();
        if (word_button(state, (question.key + " stop").c_str(), "Stop", nullptr)) question.inquiry.cancel();
    }
    if (question.wants_closed_loop && !state.live().closes) {
        paragraph(ink.ink,
                  "The loop does not close, so there is nothing to ask yet. The line at the top says which part is at "
                  "fault.");
        return;
    }
    if (!question.inquiry.outcome()) return;
    const Outcome& outcome = *question.inquiry.outcome();
    if (outcome)
        draw_reply(state, question, *outcome);
    else
        paragraph(ink.ink, outcome.error());
}

}  // namespace

void draw_questions(State& state) {
    for (Question& question : state.questions) {
        ImGui::PushID(question.key.c_str());
        const bool was_open = question.open;
        if (section_title(state, "question " + question.key, question.words, question.open)) {
            if (!was_open) question.show = frames_to_show;
            if (question.show > 1) ImGui::SetScrollHereY(0);  // scrolls the next frame
            const bool answered = !question.inquiry.running() && question.inquiry.outcome();
            if (question.show > 0 && answered) --question.show;
            draw_body(state, question);
            ImGui::Spacing();
        }
        ImGui::PopID();
    }
}

}  // namespace swashwright::panels
