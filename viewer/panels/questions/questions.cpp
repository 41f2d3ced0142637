#include "viewer/panels/questions/questions.h"

#include <utility>

#include "viewer/panels/window/state.h"

namespace swashwright::panels {

std::vector<Question> all_questions() {
    std::vector<Question> all;
    for (const studies::Question& study : studies::all_questions())
        for (const studies::Card& card : study.cards) {
            Question& made = all.emplace_back();
            made.study = &study;
            made.card = &card;
            made.key = card.key;
            made.reads_readings = study.reads_readings;
            made.values = study.start(card);
        }
    return all;
}

void take_answers(State& state) {
    for (Question& question : state.questions)
        if (question.inquiry.poll()) state.settle = true;
    if (auto said = state.sheet_writer.poll()) {
        tell(state, std::move(*said));
        state.settle = true;
    }
}

void renew_answers(State& state) {
    for (Question& question : state.questions) {
        if (!question.open || !state.live().head || (question.study->must_close && !state.live().closes)) continue;
        Question::Stamp stamp{state.document.revision(), question.reads_readings ? state.readings_revision : 0,
                              question.card->follows.empty() ? head::Sticks{} : state.controls.sticks, question.values};
        if (stamp == question.stamp) continue;
        question.stamp = std::move(stamp);
        question.inquiry.ask(question.study->run,
                             {*state.live().head, state.controls.sticks, question.values, state.readings});
    }
}

bool answering(const State& state) {
    if (state.sheet_writer.running()) return true;
    for (const Question& question : state.questions)
        if (question.inquiry.running()) return true;
    return false;
}

}  // namespace swashwright::panels
