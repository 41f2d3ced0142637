// A question put to the studies, answered in the background so that the window goes on moving.
#pragma once

#include <chrono>
#include <memory>
#include <optional>
#include <utility>

#include "viewer/panels/questions/errand.h"

namespace swashwright::panels {

/// One question's work. Never more than one errand. A question put again while the last is being answered waits until
/// that one has said something, then stops it: so answers go on coming however often it is put, as by a hand that drags
/// a length.
class Inquiry {
public:
    void ask(Study study, Asked asked);
    /// Stops what is being answered; the last outcome stays.
    void cancel();
    /// Takes over what is ready and starts what waits. Call once a frame. True if there is anything new to show.
    bool poll();
    bool running() const { return errand_ != nullptr; }
    /// 0 where the study does not say.
    int percent() const { return errand_ ? errand_->percent() : 0; }
    /// How long what is at work has been so; 0 if nothing is.
    double seconds() const;
    /// Of the last question that was answered, in full or so far.
    const std::optional<Outcome>& outcome() const { return outcome_; }
    /// The outcome is of what was asked last.
    bool fresh() const { return outcome_ && outcome_of_ == asked_; }
    /// And it is all that there is to say.
    bool whole() const { return fresh() && outcome_whole_; }
    /// How many questions have had an answer, each counted once.
    long answered() const { return answered_; }

private:
    using Clock = std::chrono::steady_clock;

    void start(Study study, Asked asked, long number);
    void take(Outcome outcome, bool whole);

    std::unique_ptr<Errand> errand_;
    Clock::time_point started_;
    bool stopped_ = false;  // what it says from now on is of no use
    struct Waiting {
        Study study;
        Asked asked;
    };
    std::optional<Waiting> waiting_;
    std::optional<Outcome> outcome_;
    bool outcome_whole_ = false;
    long asked_ = 0, at_work_ = 0, outcome_of_ = 0;  // questions by their number
    long answered_ = 0;
};

}  // namespace swashwright::panels
