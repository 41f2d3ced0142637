#include "viewer/panels/questions/inquiry.h"

#include <utility>

namespace swashwright::panels {

void Inquiry::ask(Study study, Asked asked) {
    if (!errand_) return start(study, std::move(asked));
    cancel();
    waiting_.emplace(study, std::move(asked));
}

void Inquiry::cancel() {
    waiting_.reset();
    cancelled_ = true;
    if (errand_) errand_->stop();
}

bool Inquiry::poll() {
    if (!errand_) return false;
    bool news = false;
    if (auto look = errand_->take_first_look()) {
        outcome_ = std::move(*look);
        news = true;
    }
    if (!errand_->done()) return news;
    if (!cancelled_) outcome_ = errand_->take_outcome();
    errand_.reset();
    if (auto next = std::exchange(waiting_, std::nullopt)) start(next->first, std::move(next->second));
    return true;
}

void Inquiry::start(Study study, Asked asked) {
    cancelled_ = false;
    errand_ = std::make_unique<Errand>(study, std::move(asked));
}

}  // namespace swashwright::panels
