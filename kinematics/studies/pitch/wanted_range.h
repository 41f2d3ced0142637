// Which horn travel gives the pitch ends that are wanted, and do the servos have it?
#pragma once

#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/pitch/harmonics.h"

namespace swashwright::studies {

struct WantedRange {
    double collective_deg =
        0;  // half the way from low to high collective: mean over the blades; below 0: up stick lowers pitch
    double cyclic_deg = 0;  // swing that full cyclic adds at mid collective: mean of aileron and elevator
};

struct HornNeed {
    double collective_deg = 0;           // horn travel about neutral for collective alone, either way
    double least_deg = 0, most_deg = 0;  // about neutral, trim included, over all sticks let through
    bool within_travel = true;
};

struct HornGains {
    WantedRange wanted;
    double collective_deg = 0, cyclic_deg = 0;         // for [mixing]
    double low_deg = 0, middle_deg = 0, high_deg = 0;  // mean pitch that these give
    double aileron_deg = 0, elevator_deg = 0;          // swing that these add
    double own_deg = 0;                                // swing without cyclic at mid collective, not counted in these
    std::vector<HornNeed> servos;
};

/// Newton on the real linkage with exact slopes. Fails where the linkage does not reach what is wanted; the message
/// says how far it got.
head::Result<HornGains> horn_gains(const head::Head& head, const WantedRange& wanted);

Answer answer(const HornGains& gains, const head::Description& description);

}  // namespace swashwright::studies
