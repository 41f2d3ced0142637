#include "viewer/panels/questions/errand.h"

#include <sys/resource.h>
#include <unistd.h>

#include <atomic>
#include <mutex>
#include <thread>
#include <utility>

namespace swashwright::panels {

namespace {

constexpr int behind_the_window = 5;  // a nice value: a third of the window's share where both want all cores

}  // namespace

struct Errand::Work {
    std::atomic<bool> done = false;
    std::atomic<int> percent = 0;
    std::mutex telling;
    std::optional<Reply> so_far;
    Outcome outcome;
    std::jthread thread;  // last: it is stopped and joined first
};

Errand::Errand(Study study, Asked asked) : work_(std::make_shared<Work>()) {
    work_->thread =
        std::jthread([&work = *work_, study, asked = std::move(asked)](const std::stop_token& stop) mutable {
            // On Linux of this thread alone and of those that it begins. Refused, it is as quick and the window slower.
            (void)setpriority(PRIO_PROCESS, static_cast<id_t>(gettid()), behind_the_window);
            asked.stop = stop;
            asked.percent = &work.percent;
            asked.so_far = [&work](Reply reply) {
                const std::lock_guard lock(work.telling);
                work.so_far = std::move(reply);
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

std::optional<Reply> Errand::take_so_far() {
    const std::lock_guard lock(work_->telling);
    return std::exchange(work_->so_far, std::nullopt);
}

Outcome Errand::take_outcome() {
    return std::move(work_->outcome);
}

}  // namespace swashwright::panels
