// A study at work: whether anybody still wants its answer, and whom to tell how far it is.
#pragma once

#include <algorithm>
#include <atomic>
#include <stop_token>

#include "kinematics/head/head.h"

namespace swashwright::studies {

/// Says how far a question's work is; never less than was said before, for stages may overlap and threads overtake one
/// another. The question after it starts at 0 anew.
inline void tell_percent(std::atomic<int>* percent, int now) {
    if (!percent) return;
    for (int told = *percent; told < now && !percent->compare_exchange_weak(told, now);) continue;
}

/// Ask `stopped` every few milliseconds; a study that is stopped fails with `was_stopped` as soon as it can.
struct Going {
    std::stop_token stop = {};
    std::atomic<int>* percent = nullptr;
    double from = 0, to = 1;  // what part of the whole work this is

    bool stopped() const { return stop.stop_requested(); }
    /// `share` of this work is done, 0 to 1.
    void tell(double share) const {
        tell_percent(percent, static_cast<int>(100 * (from + std::clamp(share, 0.0, 1.0) * (to - from))));
    }
    /// A piece of this work, by shares of it.
    Going part(double begins, double ends) const {
        return {stop, percent, from + begins * (to - from), from + ends * (to - from)};
    }
};

inline head::Failure was_stopped() {
    return {"stopped", {}};
}

}  // namespace swashwright::studies
