#include "kinematics/studies/pitch/air.h"

#include <cmath>

namespace swashwright::studies {

namespace {

constexpr double sea_k = 288.15;

double standard_kelvin(const head::Flight& flight) {
    constexpr double lapse_k_per_m = 0.0065;
    return sea_k - lapse_k_per_m * flight.air_height_m.value_or(0);
}

}  // namespace

double air_kelvin(const head::Flight& flight) {
    return flight.air_temperature_c ? *flight.air_temperature_c + 273.15 : standard_kelvin(flight);
}

double air_density(const head::Flight& flight) {
    constexpr double sea_pa = 101325, exponent = 5.25588, gas = 287.05287;
    return sea_pa * std::pow(standard_kelvin(flight) / sea_k, exponent) / (gas * air_kelvin(flight));
}

}  // namespace swashwright::studies
