// A question put to the studies, answered in the background so that the window goes on moving.
#pragma once

#include <atomic>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <tl/expected.hpp>
#include <utility>

#include "kinematics/studies/questions/question.h"

namespace swashwright::panels {

using studies::Asked;
using studies::Reply;
using Outcome = tl::expected<Reply, std::string>;  // else one sentence that says why there is no answer
using Study = studies::Outcome (*)(const Asked&);

/// One question's work. Never more than one thread: a question put again while the last is being answered stops that
/// one and waits for its end.
class Inquiry {
public:
    void ask(Study study, Asked asked);
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
    void start(Study study, Asked asked);

    std::shared_ptr<Work> work_;
    bool cancelled_ = false;
    std::optional<std::pair<Study, Asked>> waiting_;
    std::optional<Outcome> outcome_;
    std::jthread thread_;  // last: it is stopped and joined first
};

}  // namespace swashwright::panels
