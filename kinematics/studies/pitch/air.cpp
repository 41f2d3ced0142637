#include "kinematics/studies/pitch/air.h"

#include <cmath>

namespace swashwright::studies {

double air_density(const head::Flight& flight) {
    constexpr double sea_k = 288.15, sea_pa = 101325, lapse_k_per_m = 0.0065, exponent = 5.25588, gas = 287.05287;
    const double standard_k = sea_k - lapse_k_per_m * flight.air_height_m.value_or(0);
    const double kelvin = flight.air_temperature_c ? *flight.air_temperature_c + 273.15 : standard_k;
    return sea_pa * std::pow(standard_k / sea_k, exponent) / (gas * kelvin);
}

}  // namespace swashwright::studies
