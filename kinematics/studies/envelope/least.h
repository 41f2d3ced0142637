// Keeping the least margin seen.
#pragma once

#include "kinematics/studies/envelope/probe.h"

namespace swashwright::studies {

/// Puts the place at which `probe` stands into `least` if check `k` is nearer to its bound there.
inline void keep_least(Probe& probe, const Check& check, std::size_t k, const Place& place, Extreme& least) {
    if (const auto value = probe.value_below(k, least.margin))
        if (const double margin = check.margin(*value); margin < least.margin) least = {*value, margin, place};
}

}  // namespace swashwright::studies
