// The questions as cards: title, what can be chosen, the answer in its first line, tables, notes.
#include <fmt/format.h>

#include <utility>

#include "viewer/panels/questions/answer_table.h"
#include "viewer/panels/questions/envelope_map.h"
#include "viewer/panels/window/panels.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

using studies::Field;
using studies::OptionKind;

/// True when it is pressed. Buttons stand side by side, but for the `first` thing on a card.
bool yes_no(State& state, const Question& question, const std::string& words, bool on, bool first) {
    const std::string said = fmt::format("{}: {}", words, on ? "yes" : "no");
    if (!first) same_line_if_it_fits(said.c_str(), ImGui::GetStyle().ItemSpacing.x);
    ImGui::PushID(words.c_str());
    const bool pressed =
        word_button(state, fmt::format("{}, {}", question.key, words).c_str(), said.c_str(), nullptr, true, on);
    ImGui::PopID();
    return pressed;
}

void draw_words(State& state, Question& question, const Field& field, bool first) {
    for (const studies::WordField& word : field.each) {
        const bool on = question.values.holds(field.option, word.word);
        if (yes_no(state, question, word.words, on, first)) {
            question.values.choose(field.option, word.word, !on);
            if (!word.option.empty()) question.values.choose(word.option, word.text, !on);
        }
        first = false;
    }
}

void draw_number(State& state, Question& question, const Field& field, bool first) {
    const studies::Option& option = question.study->option(field.option);
    auto given = question.values.number_if_given(field.option);
    double value = given ? *given : question.not_yet[field.option];
    if (!field.given_words.empty() && yes_no(state, question, field.given_words, given.has_value(), first))
        given = given ? std::nullopt : std::optional(value);
    ImGui::PushID(field.words.c_str());
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(field.words.c_str());
    ImGui::SameLine();
    if (number_field(state, "value", value, {.decimals = field.decimals, .step = field.step, .width = 72}))
        value = std::clamp(value, option.low, option.high);
    state.report.item(fmt::format("{}, {}", question.key, field.words));
    ImGui::SameLine();
    ImGui::TextDisabled("%s", option.unit.c_str());
    ImGui::PopID();
    if (given)
        question.values.set(field.option, value);
    else
        question.values.set(field.option, std::monostate{});
    question.not_yet[field.option] = value;
}

void draw_choices(State& state, Question& question) {
    bool first = true;
    for (const Field& field : question.card->fields) {
        const OptionKind kind = question.study->option(field.option).kind;
        if (kind == OptionKind::words) {
            draw_words(state, question, field, first);
        } else if (field.words.empty()) {
            continue;
        } else if (kind == OptionKind::yes_no) {
            const bool on = question.values.flag(field.option);
            if (yes_no(state, question, field.words, on, first)) question.values.set(field.option, !on);
        } else {
            draw_number(state, question, field, first);
        }
        first = false;
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
    if (!question.card->follows.empty()) paragraph(ink.soft, question.card->follows);
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
    if (question.study->must_close && !state.live().closes) {
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
        if (section_title(state, "question " + question.key, question.card->words, question.open)) {
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
