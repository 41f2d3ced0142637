// What must each servo hold through one turn of the rotor, sticks held?
#pragma once

#include <optional>
#include <vector>

#include "kinematics/studies/loads/flying.h"

namespace swashwright::studies {

/// A horn's moment as loads are told: positive where its servo must raise what it moves, N mm.
double raising_nmm(const head::Head& head, const Balance& balance, std::size_t horn);

struct LoadTurn {
    std::vector<double> azimuth_deg;             // of the rotor: evenly spaced from 0, 360 left out
    std::vector<std::vector<double>> horns_nmm;  // of each servo, at each of them; without friction
};

/// None where some place of the turn does not close, or is a dead point.
std::optional<LoadTurn> load_turn(Flying& flying, const head::Sticks& sticks);

}  // namespace swashwright::studies
