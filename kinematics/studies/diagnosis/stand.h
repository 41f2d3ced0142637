// What all pitch readings of a sitting share beside the head: the gauge's zero, and how the shaft leans where the gauge
// reads from level.
#pragma once

#include <cmath>

#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::studies {

struct Estimate {
    double value = 0, deviation = 0;  // one standard deviation

    /// Farther from 0 than two deviations.
    bool told() const { return std::abs(value) > 2 * deviation; }
};

/// What the readings say of it. All 0 where the gauge was checked, or cannot show it.
struct Stand {
    Estimate zero_deg;          // the gauge reads high by this
    Estimate lean_forward_deg;  // the top of the shaft to the nose
    Estimate lean_right_deg;

    bool told() const { return zero_deg.told() || leans(); }
    bool leans() const { return lean_forward_deg.told() || lean_right_deg.told(); }
};

}  // namespace swashwright::studies
