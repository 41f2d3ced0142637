// Where a reading was taken, in words.
#pragma once

#include <fmt/format.h>

#include <string>

#include "kinematics/studies/answer/stick_words.h"
#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::studies {

/// "blade 2, full collective, azimuth 90 deg"
inline std::string reading_words(head::Kind kind, const PitchReading& r) {
    return fmt::format("blade {}, {}, azimuth {} deg", r.blade + 1, short_stick_words(kind, r.sticks),
                       figure(r.azimuth_deg, 0));
}

/// "ball 2", or "ring at 90 deg, 30.0 mm out"
inline std::string place_words(const RingHeightReading& r) {
    return r.ball ? fmt::format("ball {}", *r.ball + 1)
                  : fmt::format("ring at {} deg, {} mm out", figure(r.azimuth_deg, 0), figure(r.radius_mm, 1));
}

/// "ball 2, full collective"
inline std::string reading_words(head::Kind kind, const RingHeightReading& r) {
    return place_words(r) + ", " + short_stick_words(kind, r.sticks);
}

}  // namespace swashwright::studies
