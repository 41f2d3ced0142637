// A model helicopter as the question of power needs it: what hovers, what climbs, where the engine's power is used up.
#pragma once

#include <optional>

#include "kinematics/head/description.h"
#include "kinematics/studies/power/blade_elements.h"

namespace swashwright::studies {

/// SI units, with what the description leaves out filled in. Guesses: common practice, no source.
struct Craft {
    RotorDisc disc;
    double mass_kg = 0;
    double density = 0, kelvin = 0;  // of the air
    double speed = 0;                // of the rotor, rad/s
    std::optional<double> engine_w;  // at its own shaft
    double efficiency = 0;           // share that reaches the rotor shaft
    double body_m2 = 0;              // flat plate with as much drag as the body has in a climb
    bool chord_guessed = false, root_guessed = false, slope_guessed = false, drag_guessed = false, mass_guessed = false,
         efficiency_guessed = false, air_guessed = false;

    double weight_n() const { return mass_kg * 9.80665; }
    std::optional<double> rotor_w() const;  // of the engine's power, what reaches the rotor
    RotorAir air(double climb = 0) const { return {density, speed, climb}; }
    double tip_speed() const { return speed * disc.tip_m; }
    double tip_mach() const;
    double reynolds() const;  // of the chord at three quarters of the radius
};
Craft craft(const head::Description& description);

inline constexpr double most_pitch_deg = 20;  // looked at; beyond it blade elements say nothing worth having

/// Pitch (deg) at which the rotor carries the model. None where it does not at the most that is looked at.
std::optional<double> hover_deg(const Craft& craft);

/// A steady climb straight up at a pitch, head speed held; at a pitch that does not climb, no climb and the power of
/// the rotor standing there.
struct Climb {
    double m_s = 0, power_w = 0;
};
Climb climb(const Craft& craft, double pitch_deg);

/// Power at the rotor before the model has moved: what a pitch takes in its first moment.
double standing_w(const Craft& craft, double pitch_deg);

/// Pitch at which the rotor takes all that the engine gives: in a steady climb, or in the first moment. None where the
/// engine's power is not known, where it does not hover, or where power is left at the most that is looked at.
std::optional<double> used_up_deg(const Craft& craft, bool climbing);

/// Pitch from which on some of the blade is stalled before the model has moved, none up to the most looked at.
std::optional<double> stall_deg(const Craft& craft);

}  // namespace swashwright::studies
