// One study at work where it keeps nobody waiting: on a desktop in a thread, in a page in a worker (viewer/browser).
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "kinematics/studies/questions/question.h"

namespace swashwright::panels {

using studies::Asked;
using studies::Reply;
using Outcome = tl::expected<Reply, std::string>;  // else one sentence that says why there is no answer
using Study = studies::Outcome (*)(const Asked&);

class Errand {
public:
    /// Starts at once.
    Errand(Study study, Asked asked);
    ~Errand();  // stops it, and waits for its end
    Errand(const Errand&) = delete;
    Errand& operator=(const Errand&) = delete;

    void stop();
    bool done() const;
    /// 0 where the study does not say.
    int percent() const;
    /// The latest that could be said before it is done, one time.
    std::optional<Reply> take_so_far();
    /// Only once it is done; of one that was stopped it means nothing.
    Outcome take_outcome();

private:
    struct Work;
    std::shared_ptr<Work> work_;
};

}  // namespace swashwright::panels
