// What decides the forces in flight: how servos are rated, weights on grips, what the rotor carries, what drives it and
// in what air. No pose depends on it. All of it may be left out; the studies that ask say what they took in its place.
#pragma once

#include <optional>

namespace swashwright::head {

/// A servo as its maker rates it, at one voltage. Of the two torques at most one is given: as it was typed.
struct ServoRating {
    std::optional<double> torque_ncm = {};         // N cm, at which it stalls
    std::optional<double> torque_kgcm = {};        // the same in kg cm: 1 kg cm = 9.80665 N cm
    std::optional<double> seconds_per_60deg = {};  // without load
    std::optional<double> rated_volts = {};        // at which both were read

    bool operator==(const ServoRating&) const = default;
    std::optional<double> stall_nmm() const {
        if (torque_ncm) return *torque_ncm * 10;
        if (torque_kgcm) return *torque_kgcm * 98.0665;
        return std::nullopt;
    }
};

/// A weight fixed on a grip, at a place in the grip's terms (as a pitch arm's ball).
struct BalanceWeight {
    double mass_g = 0;
    double along_mm = 0, lead_mm = 0, up_mm = 0;

    bool operator==(const BalanceWeight&) const = default;
};

/// What the rotor carries and what drives it, in what air.
struct Flight {
    std::optional<double> model_mass_kg = {};    // ready to fly
    std::optional<double> power_w = {};          // at the shaft of engine or motor
    std::optional<double> gear_efficiency = {};  // share of it that reaches the rotor shaft, above 0, at most 1
    std::optional<double> air_temperature_c = {};
    std::optional<double> air_height_m = {};  // above the sea

    bool operator==(const Flight&) const = default;
};

}  // namespace swashwright::head
