// A question put to the studies, answered in the background so that the window goes on moving.
#pragma once

#include <atomic>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/diagnosis/readings.h"
#include "kinematics/studies/envelope/envelope.h"

namespace swashwright::panels {

struct Reply {
    studies::Answer answer;
    std::optional<head::Description> proposal;  // the head with the answer's settings made
    std::string proposal_words;                 // on the button that makes them
    std::shared_ptr<const studies::Envelope> map = {};
};

/// Everything that an answer depends on.
struct Asked {
    head::Head head;
    head::Sticks sticks;
    std::vector<double> choices;  // in the order of the question's own
    studies::Readings readings;
    std::stop_token stop = {};
    std::atomic<int>* percent = nullptr;         // how far it is, where the study says
    std::function<void(Reply)> first_look = {};  // shown until the answer is there
};

using Outcome = tl::expected<Reply, std::string>;  // else one sentence that says why there is no answer
using Study = std::function<Outcome(const Asked&)>;

/// One question's work. Never more than one thread: a question put again while the last is being answered stops that
/// one and waits for its end.
class Inquiry {
public:
    void ask(const Study& study, Asked asked);
    /// Stops what is being answered; the last outcome stays.
    void cancel();
    /// Takes over what is finished and starts what waits. Call once a frame. True if there is anything new to show.
    bool poll();
    bool running() const { return work_ != nullptr; }
    /// 0 where the study does not say.
    int percent() const { return work_ ? work_->percent.load() : 0; }
    /// Of the last question that was answered, in full or as a first look.
    const std::optional<Outcome>& outcome() const { return outcome_; }

private:
    struct Work {
        std::atomic<bool> done = false;
        std::atomic<int> percent = 0;
        std::mutex looking;
        std::optional<Reply> first_look;
        Outcome outcome;
    };
    void start(const Study& study, Asked asked);

    std::shared_ptr<Work> work_;
    bool cancelled_ = false;
    std::optional<std::pair<Study, Asked>> waiting_;
    std::optional<Outcome> outcome_;
    std::jthread thread_;  // last: it is stopped and joined first
};

}  // namespace swashwright::panels
