// A reading that is mistyped or misread.
#pragma once

#include <cstddef>

namespace swashwright::studies {

/// The sign typed wrong, taken on another blade at the same sticks and azimuth, or anything at all.
enum class Misreading { sign, blade, anything };

/// How often before anything is read, and shared how. Guesses; common practice, no source.
struct MisreadPriors {
    double chance = 0.02;                    // of each reading
    double sign = 0.4, blade = 0.2;          // shares; anything else has the rest. A ring height is only that
    double within_deg = 20, within_mm = 20;  // of what it should read, evenly: anything
    std::size_t two_from = 8;                // so many readings, and two of them may be wrong
};

struct Misread {
    std::size_t reading = 0;  // pitch readings first, then ring heights, from 0
    Misreading how = Misreading::sign;
    int blade = -1;       // whose it is, where it was taken on another
    double chance = 0;    // that it is so
    double expected = 0;  // what it should read, deg or mm, the gauge's zero included
};

/// The same thing gone wrong.
inline bool same(const Misread& a, const Misread& b) {
    return a.reading == b.reading && a.how == b.how && a.blade == b.blade;
}

}  // namespace swashwright::studies
