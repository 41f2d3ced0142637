// Where a number that falls all the way becomes zero.
#pragma once

#include <algorithm>
#include <cmath>

namespace swashwright::studies {

/// Of `falling`, which does not grow from `low` to `high`: `low` where it is below zero there already, `high` where it
/// is still above zero. Regula falsi, an end's value halved that stays twice (the Illinois rule).
template <class Falling>
double crossing(const Falling& falling, double low, double high) {
    double above = falling(low), below = falling(high);
    if (!(above > 0)) return low;
    if (!(below < 0)) return high;
    const double near = 1e-13 * std::max(std::abs(low), std::abs(high));
    int last = 0;
    for (int step = 0; step < 200 && high - low > near; ++step) {
        const double at = step % 8 == 7 ? (low + high) / 2 : low + (high - low) * above / (above - below);
        const double value = falling(at);
        if (value == 0) return at;
        if (value > 0) {
            low = at, above = value;
            if (last > 0) below /= 2;
            last = 1;
        } else {
            high = at, below = value;
            if (last < 0) above /= 2;
            last = -1;
        }
    }
    return above < -below ? low : high;
}

}  // namespace swashwright::studies
