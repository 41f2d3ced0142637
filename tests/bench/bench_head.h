// The head that the benchmark poses, and the sweep of poses. Both invented.
#pragma once

#include <array>
#include <vector>

#include "kinematics/head/description.h"

namespace swashwright::bench {

/// Two blades, clockwise, three servos 120 deg apart, one driver pin, every link a little off.
head::Description bench_head();

/// Horn angles (deg) at every stick position: collective in 11 steps, and those of a 9 x 9 grid of aileron and elevator
/// that lie in the unit disc (49), each a grid step from the one before.
struct Sweep {
    std::vector<std::array<double, 3>> horns;
    std::vector<double> azimuths;  // deg, 72 of them

    std::size_t poses() const { return horns.size() * azimuths.size(); }
};

}  // namespace swashwright::bench
