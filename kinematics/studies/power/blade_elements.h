// What does a rotor lift, and what power does it take, standing in the air or climbing along its shaft?
#pragma once

#include <optional>

namespace swashwright::studies {

/// A blade's section, symmetrical.
struct BladeSection {
    double lift_slope = 5.73;  // for each radian
    double drag = 0.012;       // drag coefficient at no lift
    double drag_rise = 1.25;   // added to it, times the angle of attack squared, radians
    /// Lift coefficient at which it stalls; none: never. Beyond it lift stays, and drag grows by `stalled_rise` times
    /// the angle beyond, squared.
    std::optional<double> most_lift = {};
    double stalled_rise = 5;

    double stall_angle() const { return *most_lift / lift_slope; }  // rad
    double lift_at(double angle) const;
    double drag_at(double angle) const;
};

/// The rotor, SI units; blades even in chord, untwisted.
struct RotorDisc {
    int blades = 2;
    double tip_m = 0, root_m = 0, chord_m = 0;  // tip and the chord's inner end from the shaft axis
    BladeSection section;

    double area_m2() const;
    double solidity() const;  // blades times chord over pi times tip
};

struct RotorAir {
    double density = 0;  // kg/m^3
    double speed = 0;    // of the rotor, rad/s
    double climb = 0;    // m/s along the thrust, not below 0
};

struct Lift {
    double thrust_n = 0;       // with the sign of the pitch
    double power_w = 0;        // at the rotor shaft
    double loading = 0;        // C_T over solidity, with C_T = thrust / (density area tip speed^2)
    double stalled_share = 0;  // of the blade's length
};

/// Blade elements and momentum theory ring by ring with Prandtl's loss at the tip (J. G. Leishman, Principles of
/// Helicopter Aerodynamics, chapter 3, from memory): in a ring at x of the radius the inflow, over tip speed, is that
/// at which solidity lift x / 2 = 4 F inflow (inflow - climb). Small angles, no swirl, air that gives way at once. At
/// negative pitch the same downwards. Zero where nothing turns or there is no air.
Lift lift(const RotorDisc& disc, const RotorAir& air, double pitch);

/// The textbooks' short form of the hover, to set beside: inflow the same everywhere, its losses as a factor on the
/// induced power, the section's drag as at no lift (A. Gessow and G. C. Myers, Aerodynamics of the Helicopter;
/// Leishman; from memory): pitch = 6 C_T / (solidity slope) + 3/2 sqrt(C_T / 2), C_P = loss C_T^1.5 / sqrt 2 + solidity
/// drag / 8.
struct SimpleHover {
    double pitch = 0;  // rad
    double inflow = 0;
    double power_w = 0;
};
inline constexpr double usual_induced_loss = 1.15;
SimpleHover simple_hover(const RotorDisc& disc, const RotorAir& air, double thrust_n);

}  // namespace swashwright::studies
