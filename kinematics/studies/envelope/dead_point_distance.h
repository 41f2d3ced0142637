// How much farther could the sticks go before the linkage comes to a dead point and its loop opens?
#pragma once

#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::studies {

/// A way of leaving centred sticks. Cyclic is taken in the direction, and everything at the azimuth, that lock first.
struct DeadPointWay {
    std::string words;  // "collective up"
    std::optional<double>
        stick;            // in full sticks: below 1 it lies within the sticks' reach; none up to `farthest_stick`
    head::Sticks sticks;  // there
    double azimuth_deg = 0;
};

inline constexpr double farthest_stick = 3;

/// Collective up and down, cyclic alone, and both together (of a tail rudder right and left), each from centred sticks
/// straight out, to 0.001 of a stick at directions 15 deg and azimuths 10 deg apart. The head must close at neutral.
/// On so many threads, 0: as many as there are cores; their count changes nothing. Unfinished where it is stopped.
std::vector<DeadPointWay> dead_point_distance(const head::Head& head, int workers = 0,
                                              const std::stop_token& stop = {});

}  // namespace swashwright::studies
