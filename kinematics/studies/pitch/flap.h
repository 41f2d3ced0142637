// How far does a blade rise in flight for a difference of pitch? The flap balance of a hovering rotor, as an upper-side
// estimate.
#pragma once

#include <optional>

#include "kinematics/head/description.h"

namespace swashwright::studies {

/// A blade's numbers with what the description leaves out filled in; SI units. Defaults: common practice, no source.
struct BladeNumbers {
    double tip_m = 0, chord_m = 0, mass_kg = 0;
    double bolt_m = 0;   // mass is spread evenly from here to the tip
    double hinge_m = 0;  // of the flap hinge from the shaft
    double stiffness_nm = 0;
    bool chord_guessed = false, mass_guessed = false, bolt_guessed = false;
};
BladeNumbers blade_numbers(const head::Description& description);

/// Air and section as the balance takes them: sea-level standard air (ISO 2533), lift slope of a thin section less tip
/// and thickness losses as rotor texts use it.
inline constexpr double air_kg_m3 = 1.225;
inline constexpr double lift_slope_per_rad = 5.73;

struct Flap {
    double inertia_kgm2 = 0;  // of the blade about the flap hinge
    double first_moment_kgm = 0;
    double lock_number = 0;      // air density x slope x chord x tip^4 / inertia
    double stiffness_ratio = 0;  // nu^2: flap frequency over rotor speed, squared
    double flap_per_pitch =
        0;  // steady flap angle for each unit of pitch, inflow unchanged; hinge at the shaft: lock / 8
    double tip_mm_per_deg = 0;  // tip height for each degree of pitch: the blade rises about its hinge
};

/// Hover, rigid blade, no twist, no pitch-flap coupling, inflow that does not follow the single blade: the blade that
/// is off in fact rises less. None where blade or head speed leave nothing to balance (no mass outboard of the hinge,
/// or a spring with the rotor at rest).
std::optional<Flap> flap(const BladeNumbers& blade, double head_speed_rpm);

}  // namespace swashwright::studies
