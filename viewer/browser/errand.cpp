// A study at work in a worker of the page.
#include "viewer/panels/questions/errand.h"

#include "viewer/browser/packing.h"
#include "viewer/browser/workers.h"

namespace swashwright::panels {

struct Errand::Work {
    browser::Work worker;
};

Errand::Errand(Study study, Asked asked) : work_(std::make_shared<Work>()) {
    work_->worker.start(browser::Task::study, browser::packed(study, asked));
}

Errand::~Errand() {
    stop();
}

void Errand::stop() {
    work_->worker.stop();
}

bool Errand::done() const {
    return work_->worker.done();
}

int Errand::percent() const {
    return work_->worker.percent();
}

std::optional<Reply> Errand::take_so_far() {
    const auto bytes = work_->worker.take_so_far();
    if (!bytes) return std::nullopt;
    auto look = browser::unpacked_outcome(*bytes);
    return look ? std::optional(std::move(*look)) : std::nullopt;
}

Outcome Errand::take_outcome() {
    if (const auto bytes = work_->worker.take_result()) return browser::unpacked_outcome(*bytes);
    return tl::unexpected(std::string("There is no answer: what was at work on it came to a bad end."));
}

}  // namespace swashwright::panels
