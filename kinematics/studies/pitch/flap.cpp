#include "kinematics/studies/pitch/flap.h"

#include <cmath>
#include <numbers>

namespace swashwright::studies {

BladeNumbers blade_numbers(const head::Description& d) {
    constexpr double usual_chord_mm = 55, usual_kg_per_m2 = 4.8;  // a guess, see head::Blade
    BladeNumbers out;
    out.tip_m = d.rotor.blade_tip_mm / 1000;
    out.chord_m = d.blade.chord_mm.value_or(d.rotor.blade_tip_mm / 12) / 1000;
    out.bolt_m = d.blade.bolt_mm.value_or(d.rotor.blade_tip_mm / 10) / 1000;
    const double area = out.chord_m * (out.tip_m - out.bolt_m);
    out.mass_kg =
        d.blade.mass_g ? *d.blade.mass_g / 1000 : usual_kg_per_m2 * (1000 * out.chord_m / usual_chord_mm) * area;
    out.hinge_m = d.blade.flap_hinge_mm / 1000;
    out.stiffness_nm = d.blade.flap_stiffness_nm;
    out.chord_guessed = !d.blade.chord_mm;
    out.mass_guessed = !d.blade.mass_g;
    out.bolt_guessed = !d.blade.bolt_mm;
    return out;
}

std::optional<Flap> flap(const BladeNumbers& b, double head_speed_rpm) {
    const double outer = b.tip_m - b.hinge_m, inner = b.bolt_m - b.hinge_m, span = b.tip_m - b.bolt_m;
    const double speed = head_speed_rpm * std::numbers::pi / 30;
    if (!(span > 0) || !(outer > 0) || !(b.mass_kg > 0) || !(b.chord_m > 0)) return std::nullopt;
    if (b.stiffness_nm > 0 && !(speed > 0)) return std::nullopt;
    Flap out;
    out.inertia_kgm2 = b.mass_kg * (std::pow(outer, 3) - std::pow(inner, 3)) / (3 * span);
    out.first_moment_kgm = b.mass_kg * (outer * outer - inner * inner) / (2 * span);
    if (!(out.inertia_kgm2 > 0)) return std::nullopt;
    out.lock_number = air_kg_m3 * lift_slope_per_rad * b.chord_m * std::pow(b.tip_m, 4) / out.inertia_kgm2;
    out.stiffness_ratio = 1 + b.hinge_m * out.first_moment_kgm / out.inertia_kgm2;
    if (b.stiffness_nm > 0) out.stiffness_ratio += b.stiffness_nm / (out.inertia_kgm2 * speed * speed);
    // The lift at r has the arm r - e about the hinge: the integral of r^2 (r - e) from the hinge to the tip.
    const double e = b.hinge_m,
                 lift = (std::pow(b.tip_m, 4) - std::pow(e, 4)) / 4 - e * (std::pow(b.tip_m, 3) - std::pow(e, 3)) / 3;
    out.flap_per_pitch =
        air_kg_m3 * lift_slope_per_rad * b.chord_m * lift / (2 * out.inertia_kgm2 * out.stiffness_ratio);
    out.tip_mm_per_deg = 1000 * outer * out.flap_per_pitch * std::numbers::pi / 180;
    return out;
}

}  // namespace swashwright::studies
