// How dense and how warm is the air in which it flies?
#pragma once

#include "kinematics/head/flight.h"

namespace swashwright::studies {

/// Air at the flight's height and temperature, kg/m^3: dry, pressure of the standard atmosphere up to 11 km, which is
/// 101325 Pa x (1 - 0.0065 K/m x height / 288.15 K)^5.25588, over 287.05287 J/(kg K) and the temperature (ISO 2533).
/// What is not given is taken as at sea level, and as the standard atmosphere has it at that height.
double air_density(const head::Flight& flight);
/// Its absolute temperature, K.
double air_kelvin(const head::Flight& flight);

}  // namespace swashwright::studies
