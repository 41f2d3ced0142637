// A question put to the studies, answered in the background so that the window goes on moving.
#pragma once

#include <memory>
#include <optional>
#include <utility>

#include "viewer/panels/questions/errand.h"

namespace swashwright::panels {

/// One question's work. Never more than one errand: a question put again while the last is being answered stops that
/// one and waits for its end.
class Inquiry {
public:
    void ask(Study study, Asked asked);
    /// Stops what is being answered; the last outcome stays.
    void cancel();
    /// Takes over what is finished and starts what waits. Call once a frame. True if there is anything new to show.
    bool poll();
    bool running() const { return errand_ != nullptr; }
    /// 0 where the study does not say.
    int percent() const { return errand_ ? errand_->percent() : 0; }
    /// Of the last question that was answered, in full or as a first look.
    const std::optional<Outcome>& outcome() const { return outcome_; }

private:
    void start(Study study, Asked asked);

    std::unique_ptr<Errand> errand_;
    bool cancelled_ = false;
    std::optional<std::pair<Study, Asked>> waiting_;
    std::optional<Outcome> outcome_;
};

}  // namespace swashwright::panels
