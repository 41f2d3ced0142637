#include "viewer/panels/questions/inquiry.h"

#include <utility>

namespace swashwright::panels {

void Inquiry::ask(Study study, Asked asked) {
    if (!work_) return start(study, std::move(asked));
    cancel();
    waiting_.emplace(study, std::move(asked));
}

void Inquiry::cancel() {
    waiting_.reset();
    cancelled_ = true;
    thread_.request_stop();
}

bool Inquiry::poll() {
    if (!work_) return false;
    bool news = false;
    {
        const std::lock_guard lock(work_->looking);
        if (auto look = std::exchange(work_->first_look, std::nullopt)) {
            outcome_ = std::move(*look);
            news = true;
        }
    }
    if (!work_->done.load(std::memory_order_acquire)) return news;
    thread_.join();
    if (!cancelled_) outcome_ = std::move(work_->outcome);
    work_.reset();
    if (auto next = std::exchange(waiting_, std::nullopt)) start(next->first, std::move(next->second));
    return true;
}

void Inquiry::start(Study study, Asked asked) {
    cancelled_ = false;
    work_ = std::make_shared<Work>();
    thread_ = std::jthread([work = work_, study, asked = std::move(asked)](const std::stop_token& stop) mutable {
        asked.stop = stop;
        asked.percent = &work->percent;
        asked.first_look = [&work = *work](Reply reply) {
            const std::lock_guard lock(work.looking);
            work.first_look = std::move(reply);
        };
        work->outcome = study(asked).map_error(&studies::NoAnswer::why);
        work->done.store(true, std::memory_order_release);
    });
}

}  // namespace swashwright::panels
