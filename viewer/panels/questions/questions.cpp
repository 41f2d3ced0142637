#include "viewer/panels/questions/questions.h"

#include <utility>

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
            made.slow = study.takes_long;
        }
    return all;
}

namespace {

constexpr double slow_seconds = 0.3;
constexpr double stale_seconds = 0.1;  // what is so old passes for now: to mark it would be a flicker

}  // namespace

void take_answers(Screen& screen, std::vector<Question>& questions) {
    for (Question& question : questions) {
        if (question.inquiry.poll()) screen.settle = true;
        if (question.inquiry.seconds() > slow_seconds) question.slow = true;
        if (question.inquiry.fresh()) question.fresh_at = screen.clock;
    }
}

bool stale(const Question& question, double now) {
    return question.inquiry.outcome() && !question.inquiry.fresh() && now - question.fresh_at > stale_seconds;
}

void stop_answers(std::vector<Question>& questions) {
    for (Question& question : questions) {
        if (!question.inquiry.running()) continue;
        question.inquiry.cancel();
        question.stopped = true;
    }
}

Question::Stamp stamp_of(const Bench& bench, const Gauge& gauge, const Question& question) {
    return {bench.document().revision(), question.reads_readings ? gauge.revision : 0,
            question.card->follows.empty() ? head::Sticks{} : bench.controls.sticks, question.values};
}

std::string headline(const Bench& bench, const Gauge& gauge, const Question& question) {
    const auto& outcome = question.inquiry.outcome();
    if (!outcome || !*outcome || question.inquiry.running() || question.stopped || bench.live().hangs) return {};
    if (!(question.stamp == stamp_of(bench, gauge, question))) return {};
    const std::string& text = (*outcome)->answer.text;
    const std::size_t end = std::min(text.find(". "), text.find('\n'));
    return end == std::string::npos ? text : text.substr(0, text[end] == '.' ? end + 1 : end);
}

void renew_answers(const Bench& bench, const Gauge& gauge, std::vector<Question>& questions) {
    for (Question& question : questions) {
        if (!question.open && question.inquiry.running()) {
            question.inquiry.cancel();
            question.stamp = {};  // opened again, it is asked again
        }
        if (!question.open || !bench.live().head || bench.live().hangs ||
            (question.study->must_close && !bench.live().closes))
            continue;
        Question::Stamp stamp = stamp_of(bench, gauge, question);
        if (stamp == question.stamp) continue;
        question.stamp = std::move(stamp);
        question.stopped = false;
        question.inquiry.ask(question.study->run,
                             {*bench.live().head, bench.controls.sticks, question.values, gauge.readings});
    }
}

std::optional<FlownAs> flown_as(const std::vector<Question>& questions) {
    const auto loads = std::ranges::find(questions, "loads", &Question::key);
    if (loads == questions.end() || !loads->open) return std::nullopt;
    return FlownAs{loads->values.number_if_given("speed"), loads->values.number_if_given("coning")};
}

bool answering(const std::vector<Question>& questions) {
    for (const Question& question : questions)
        if (question.inquiry.running()) return true;
    return false;
}

}  // namespace swashwright::panels
