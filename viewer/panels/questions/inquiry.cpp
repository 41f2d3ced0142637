#include "viewer/panels/questions/inquiry.h"

#include <utility>

namespace swashwright::panels {

namespace {

/// A whole answer that is as quick as this is not shown in part first: the part would be seen as a flash.
constexpr double look_after_seconds = 0.06;

}  // namespace

void Inquiry::ask(Study study, Asked asked) {
    ++asked_;
    if (!errand_) return start(study, std::move(asked), asked_);
    waiting_ = Waiting{study, std::move(asked)};
}

void Inquiry::cancel() {
    waiting_.reset();
    stopped_ = true;
    if (errand_) errand_->stop();
}

double Inquiry::seconds() const {
    return errand_ ? std::chrono::duration<double>(Clock::now() - started_).count() : 0;
}

bool Inquiry::poll() {
    if (!errand_) return false;
    const bool done = errand_->done();
    bool news = false;
    if (!stopped_ && done) {
        take(errand_->take_outcome(), true);
        news = true;
    } else if (!stopped_ && seconds() > look_after_seconds) {
        if (auto look = errand_->take_so_far()) {
            take(std::move(*look), false);
            news = true;
        }
    }
    if (waiting_ && !done && outcome_of_ == at_work_ && !std::exchange(stopped_, true)) errand_->stop();
    // What came to its end since it was asked is taken the next time, unless nobody wants it.
    if (!done && !(stopped_ && errand_->done())) return news;
    errand_.reset();
    if (auto next = std::exchange(waiting_, std::nullopt)) start(next->study, std::move(next->asked), asked_);
    return true;
}

void Inquiry::start(Study study, Asked asked, long number) {
    stopped_ = false;
    at_work_ = number;
    started_ = Clock::now();
    errand_ = std::make_unique<Errand>(study, std::move(asked));
}

void Inquiry::take(Outcome outcome, bool whole) {
    if (outcome_of_ != at_work_) ++answered_;
    outcome_ = std::move(outcome);
    outcome_of_ = at_work_;
    outcome_whole_ = whole;
}

}  // namespace swashwright::panels
