#include "kinematics/studies/loads/blade_moment.h"

#include <algorithm>
#include <cmath>

namespace swashwright::studies {

namespace {

// Guesses, common practice, no source.
constexpr double usual_thickness = 0.12;     // of the chord
constexpr double most_coning = 15 * degree;  // beyond it the flap balance says nothing

double in_m(double mm) {
    return mm / 1000;
}

}  // namespace

MassMoments& MassMoments::operator+=(const MassMoments& other) {
    ax += other.ax;
    at += other.at;
    xx_less_tt += other.xx_less_tt;
    xt += other.xt;
    return *this;
}

double centrifugal_moment_nm(const MassMoments& mass, double pitch, double cone, double speed) {
    const double s = std::sin(pitch), c = std::cos(pitch);
    const double off = std::sin(cone) * (mass.ax * c - mass.at * s);
    const double own = std::cos(cone) * (mass.xx_less_tt * s * c + mass.xt * std::cos(2 * pitch));
    return -speed * speed * std::cos(cone) * (off + own);
}

LoadBlade load_blade(const head::Description& description) {
    const head::Blade& given = description.blade;
    LoadBlade out;
    BladeNumbers& numbers = out.numbers = blade_numbers(description);
    numbers.mass_kg = std::max(0.0, numbers.mass_kg);  // guessed by area: of none where the bolt is beyond the tip
    out.thickness_m = given.thickness_mm ? in_m(*given.thickness_mm) : usual_thickness * numbers.chord_m;
    out.mass_along_m = given.mass_along_mm ? in_m(*given.mass_along_mm) : (numbers.bolt_m + numbers.tip_m) / 2;
    const double in_line = numbers.bolt_m > 0 ? out.mass_along_m / numbers.bolt_m : 0;
    out.mass_ahead_m =
        given.mass_ahead_mm ? in_m(*given.mass_ahead_mm) : in_m(given.bolt_ahead_mm.value_or(0)) * in_line;
    out.spread_m = given.mass_spread_mm ? in_m(*given.mass_spread_mm) : numbers.chord_m / std::sqrt(12.0);
    const double quarter = numbers.chord_m / 4;
    out.quarter_ahead_m = given.edge_ahead_mm ? in_m(*given.edge_ahead_mm) - quarter : out.mass_ahead_m;
    out.moment_coefficient = given.moment_coefficient.value_or(0);
    out.lift_slope = given.lift_slope_per_rad.value_or(lift_slope_per_rad);
    out.thickness_guessed = !given.thickness_mm;
    out.along_guessed = !given.mass_along_mm;
    out.ahead_guessed = !given.mass_ahead_mm && !given.bolt_ahead_mm;
    out.spread_guessed = !given.mass_spread_mm;
    out.edge_guessed = !given.edge_ahead_mm;
    out.coefficient_guessed = !given.moment_coefficient;
    return out;
}

MassMoments mass_moments(const LoadBlade& blade) {
    const double m = blade.numbers.mass_kg, x = blade.mass_ahead_m;
    const double own = blade.spread_m * blade.spread_m - blade.thickness_m * blade.thickness_m / 12;
    return {m * blade.mass_along_m * x, 0, m * (own + x * x), 0};
}

MassMoments mass_moments(const head::BalanceWeight& weight) {
    const double m = weight.mass_g / 1000;
    const double a = in_m(weight.along_mm), x = in_m(weight.lead_mm), t = in_m(weight.up_mm);
    return {m * a * x, m * a * t, m * (x * x - t * t), m * x * t};
}

Hover hover(const LoadBlade& blade, int blades, double mean_pitch, double density, double speed, double precone) {
    const BladeNumbers& b = blade.numbers;
    Hover out{density, speed, 0, 0};
    if (!(b.tip_m > 0) || !(density > 0) || !(speed > 0)) return out;
    // C_T = 2 inflow^2 makes a square equation of it.
    const double loading = blades * b.chord_m / (pi * b.tip_m) * blade.lift_slope;
    const double size = (std::sqrt(loading * loading / 16 + 4 * loading * std::abs(mean_pitch) / 3) - loading / 4) / 4;
    out.inflow = std::copysign(size, mean_pitch);
    const auto balance = flap(b, speed * 30 / pi);
    if (!balance) return out;
    // Lift about the flap hinge at e: the integral of r (pitch r - inflow R) (r - e) from e to R.
    const double R = b.tip_m, e = b.hinge_m;
    const auto power = [&](int n) { return (std::pow(R, n) - std::pow(e, n)) / n; };
    const double by_pitch = power(4) - e * power(3), by_inflow = R * (power(3) - e * power(2));
    const double lifted = density * blade.lift_slope * b.chord_m / 2 * (mean_pitch * by_pitch - out.inflow * by_inflow);
    const double flung = balance->stiffness_ratio - b.stiffness_nm / (balance->inertia_kgm2 * speed * speed);
    out.coning = std::clamp((lifted / balance->inertia_kgm2 - precone * flung) / balance->stiffness_ratio, -most_coning,
                            most_coning);
    return out;
}

double lift_n(const LoadBlade& blade, const Hover& air, double pitch) {
    const BladeNumbers& b = blade.numbers;
    const double pressure = air.density * blade.lift_slope * b.chord_m * air.speed * air.speed / 2;
    return pressure * std::pow(b.tip_m, 3) * (pitch / 3 - air.inflow / 2);
}

namespace {

/// Of the whole blade for a moment coefficient of 1, N m: half density, chord squared, speed squared along the blade.
double section_moment_nm(const LoadBlade& blade, const Hover& air) {
    const BladeNumbers& b = blade.numbers;
    const double r = std::pow(b.tip_m, 3) - std::pow(std::min(b.bolt_m, b.tip_m), 3);
    return air.density * air.speed * air.speed * b.chord_m * b.chord_m * r / 6;
}

}  // namespace

BladeMoment blade_moment(const LoadBlade& blade, const MassMoments& weights, const Hover& air, double pitch,
                         double grip, double cone) {
    BladeMoment out;
    const MassMoments mass = mass_moments(blade);
    out.propeller = centrifugal_moment_nm({0, 0, mass.xx_less_tt, mass.xt}, pitch, cone, air.speed);
    out.off_axis = centrifugal_moment_nm({mass.ax, mass.at, 0, 0}, pitch, cone, air.speed);
    out.weights = centrifugal_moment_nm(weights, grip, cone, air.speed);
    out.lift = lift_n(blade, air, pitch) * blade.quarter_ahead_m;
    out.section = section_moment_nm(blade, air) * blade.moment_coefficient;
    return out;
}

double moment_doubt_nm(const LoadBlade& blade, const Hover& air, const BladeMoment& moment, double pitch, double cone) {
    // Usual shares, guesses: mass by area 0.3, chord 0.1 and so its square 0.2, spread 0.15 and so its square 0.3.
    double own = 0;
    for (const auto& [guessed, share] :
         {std::pair{blade.numbers.mass_guessed, 0.3}, {blade.numbers.chord_guessed, 0.2}, {blade.spread_guessed, 0.3}})
        if (guessed) own += share * share;
    double sum = own * moment.propeller * moment.propeller;
    const auto add = [&](double nm) { sum += nm * nm; };
    // Where the mass and where the lift stand against the axis: 1 % and 5 % of the chord where guessed.
    const double chord = blade.numbers.chord_m;
    if (blade.ahead_guessed) {
        const double ax = blade.numbers.mass_kg * blade.mass_along_m * 0.01 * chord;
        add(centrifugal_moment_nm({ax, 0, 0, 0}, pitch, cone, air.speed));
    }
    if (blade.edge_guessed) add(lift_n(blade, air, pitch) * 0.05 * chord);
    add(section_moment_nm(blade, air) * (blade.coefficient_guessed ? 0.01 : 0.003));
    return std::sqrt(sum);
}

}  // namespace swashwright::studies
