#include "viewer/panels/questions/errand.h"

#include <atomic>
#include <mutex>
#include <thread>
#include <utility>

namespace swashwright::panels {

struct Errand::Work {
    std::atomic<bool> done = false;
    std::atomic<int> percent = 0;
    std::mutex looking;
    std::optional<Reply> first_look;
    Outcome outcome;
    std::jthread thread;  // last: it is stopped and joined first
};

Errand::Errand(Study study, Asked asked) : work_(std::make_shared<Work>()) {
    work_->thread =
        std::jthread([&work = *work_, study, asked = std::move(asked)](const std::stop_token& stop) mutable {
            asked.stop = stop;
            asked.percent = &work.percent;
            asked.first_look = [&work](Reply reply) {
                const std::lock_guard lock(work.looking);
                work.first_look = std::move(reply);
            };
            work.outcome = study(asked).map_error(&studies::NoAnswer::why);
            work.done.store(true, std::memory_order_release);
        });
}

Errand::~Errand() = default;

void Errand::stop() {
    work_->thread.request_stop();
}

bool Errand::done() const {
    return work_->done.load(std::memory_order_acquire);
}

int Errand::percent() const {
    return work_->percent.load();
}

std::optional<Reply> Errand::take_first_look() {
    const std::lock_guard lock(work_->looking);
    return std::exchange(work_->first_look, std::nullopt);
}

Outcome Errand::take_outcome() {
    return std::move(work_->outcome);
}

}  // namespace swashwright::panels
