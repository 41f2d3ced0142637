// What a hand moves in an envelope, and how far.
#pragma once

#include <string>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::studies {

/// A lever that a hand moves (flapping of a rocking spindle, say) and how far it may.
struct Hand {
    std::string path, words;  // "lever[1]", "spindle"
    double least_deg = 0, neutral_deg = 0, most_deg = 0;
};

/// In the order of `head::Parts::hands`.
std::vector<Hand> hands_of(const head::Head& head);

/// Every part that a hand moves at neutral or one of its ends, each with each, deg.
std::vector<std::vector<double>> hand_places(const std::vector<Hand>& hands);

}  // namespace swashwright::studies
