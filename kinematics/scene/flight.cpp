#include "kinematics/scene/flight.h"

namespace swashwright::scene {
namespace {

constexpr Kind mass{"a mass in g", 0.01, 100000};
constexpr Kind hinge{"a radius in mm", 0, 10000};
constexpr Kind stiffness{"a moment in N m for each radian", 0, 100000};
constexpr Kind torque_ncm{"a torque in N cm", 0.01, 100000};
constexpr Kind torque_kgcm{"a torque in kg cm", 0.001, 10000};
constexpr Kind seconds{"a time in s for 60 degrees", 0.001, 10};
constexpr Kind volts{"a voltage", 1, 100};
constexpr Kind coefficient{"a coefficient", -1, 1};
constexpr Kind drag{"a drag coefficient", 0, 1};
constexpr Kind slope{"a lift slope for each radian", 0.1, 10};
constexpr Kind model_mass{"a mass in kg", 0.001, 1000};
constexpr Kind power{"a power in W", 0.1, 1e6};
constexpr Kind share{"a share above 0, up to 1", 0.01, 1};
constexpr Kind temperature{"a temperature in deg C", -80, 80};
constexpr Kind height{"a height above the sea in m", -500, 10000};
constexpr std::size_t most_weights = 24;

}  // namespace

head::Blade read_blade(Keys& keys) {
    head::Blade blade;
    blade.chord_mm = keys.optional_number("chord_mm", length);
    blade.mass_g = keys.optional_number("mass_g", mass);
    blade.bolt_mm = keys.optional_number("bolt_mm", length);
    blade.flap_hinge_mm = keys.number("flap_hinge_mm", hinge, blade.flap_hinge_mm);
    blade.flap_stiffness_nm = keys.number("flap_stiffness_nm", stiffness, blade.flap_stiffness_nm);
    blade.thickness_mm = keys.optional_number("thickness_mm", length);
    blade.mass_along_mm = keys.optional_number("mass_along_mm", length);
    blade.bolt_ahead_mm = keys.optional_number("bolt_ahead_mm", coordinate);
    blade.mass_ahead_mm = keys.optional_number("mass_ahead_mm", coordinate);
    blade.mass_spread_mm = keys.optional_number("mass_spread_mm", length);
    blade.edge_ahead_mm = keys.optional_number("edge_ahead_mm", coordinate);
    blade.moment_coefficient = keys.optional_number("moment_coefficient", coefficient);
    blade.profile_drag = keys.optional_number("profile_drag", drag);
    blade.lift_slope_per_rad = keys.optional_number("lift_slope_per_rad", slope);
    keys.finish();
    return blade;
}

head::Flight read_flight(Keys& keys) {
    head::Flight flight;
    flight.model_mass_kg = keys.optional_number("model_mass_kg", model_mass);
    flight.power_w = keys.optional_number("power_w", power);
    flight.gear_efficiency = keys.optional_number("gear_efficiency", share);
    flight.air_temperature_c = keys.optional_number("air_temperature_c", temperature);
    flight.air_height_m = keys.optional_number("air_height_m", height);
    keys.finish();
    return flight;
}

head::ServoRating read_rating(Keys& keys) {
    head::ServoRating rating;
    rating.torque_ncm = keys.optional_number("torque_ncm", torque_ncm);
    rating.torque_kgcm = keys.optional_number("torque_kgcm", torque_kgcm);
    rating.seconds_per_60deg = keys.optional_number("seconds_per_60deg", seconds);
    rating.rated_volts = keys.optional_number("rated_volts", volts);
    if (keys.has("torque_ncm") && keys.has("torque_kgcm"))
        keys.mistake("torque_kgcm", "found beside torque_ncm; expected only one of the two: as the maker writes it");
    return rating;
}

std::vector<head::BalanceWeight> read_weights(Keys& keys) {
    std::vector<head::BalanceWeight> weights;
    keys.allow("weights");
    if (!keys.has("weights")) return weights;
    auto list = keys.tables("weights", "[{ mass_g, along_mm, lead_mm, up_mm }, ...]", most_weights);
    if (!list) return weights;
    for (Keys& one : *list) {
        weights.push_back({.mass_g = one.number("mass_g", mass),
                           .along_mm = one.number("along_mm", coordinate),
                           .lead_mm = one.number("lead_mm", coordinate),
                           .up_mm = one.number("up_mm", coordinate)});
        one.finish();
    }
    return weights;
}

}  // namespace swashwright::scene
