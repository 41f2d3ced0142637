#include "kinematics/studies/power/craft.h"

#include <cmath>

#include "kinematics/studies/pitch/air.h"
#include "kinematics/studies/pitch/flap.h"
#include "kinematics/studies/power/crossing.h"

namespace swashwright::studies {

namespace {

// Guesses, common practice, no source.
constexpr double usual_disc_n_m2 = 25;     // weight over the disc's area
constexpr double usual_drag = 0.012;       // at the Reynolds numbers of models
constexpr double usual_most_lift = 0.9;    // lift coefficient, the same
constexpr double usual_efficiency = 0.85;  // gears, and the tail rotor's share
constexpr double usual_body_share = 0.02;  // of the disc's area

}  // namespace

std::optional<double> Craft::rotor_w() const {
    return engine_w ? std::optional(*engine_w * efficiency) : std::nullopt;
}

double Craft::tip_mach() const {
    constexpr double ratio_of_heats = 1.4, gas = 287.05287;  // ISO 2533
    return tip_speed() / std::sqrt(ratio_of_heats * gas * kelvin);
}

double Craft::reynolds() const {
    // Viscosity of air by Sutherland's formula with the numbers of ISO 2533, kg/(m s).
    const double viscosity = 1.458e-6 * std::pow(kelvin, 1.5) / (kelvin + 110.4);
    return density * 0.75 * tip_speed() * disc.chord_m / viscosity;
}

Craft craft(const head::Description& d) {
    Craft out;
    const BladeNumbers blade = blade_numbers(d);
    out.disc = {d.rotor.blades,
                blade.tip_m,
                blade.bolt_m,
                blade.chord_m,
                {.lift_slope = d.blade.lift_slope_per_rad.value_or(lift_slope_per_rad),
                 .drag = d.blade.profile_drag.value_or(usual_drag),
                 .most_lift = usual_most_lift}};
    const head::Flight& flight = d.flight;
    out.mass_kg = flight.model_mass_kg.value_or(usual_disc_n_m2 * out.disc.area_m2() / 9.80665);
    out.density = air_density(flight);
    out.kelvin = air_kelvin(flight);
    out.speed = d.rotor.head_speed_rpm * pi / 30;
    out.engine_w = flight.power_w;
    out.efficiency = flight.gear_efficiency.value_or(usual_efficiency);
    out.body_m2 = usual_body_share * out.disc.area_m2();
    out.chord_guessed = blade.chord_guessed;
    out.root_guessed = blade.bolt_guessed;
    out.slope_guessed = !d.blade.lift_slope_per_rad;
    out.drag_guessed = !d.blade.profile_drag;
    out.mass_guessed = !flight.model_mass_kg;
    out.efficiency_guessed = !flight.gear_efficiency;
    out.air_guessed = !flight.air_temperature_c && !flight.air_height_m;
    return out;
}

std::optional<double> hover_deg(const Craft& craft) {
    const auto lacking = [&](double deg) {
        return craft.weight_n() - lift(craft.disc, craft.air(), deg * degree).thrust_n;
    };
    if (lacking(most_pitch_deg) > 0) return std::nullopt;
    return crossing(lacking, 0, most_pitch_deg);
}

Climb climb(const Craft& craft, double pitch_deg) {
    const double pitch = pitch_deg * degree;
    const auto left_over = [&](double m_s) {
        const double drag = craft.density / 2 * m_s * m_s * craft.body_m2;
        return lift(craft.disc, craft.air(m_s), pitch).thrust_n - craft.weight_n() - drag;
    };
    const double m_s = crossing(left_over, 0, std::max(0.0, pitch) * craft.tip_speed());
    return {m_s, lift(craft.disc, craft.air(m_s), pitch).power_w};
}

double standing_w(const Craft& craft, double pitch_deg) {
    return lift(craft.disc, craft.air(), pitch_deg * degree).power_w;
}

std::optional<double> used_up_deg(const Craft& craft, bool climbing) {
    const auto from = hover_deg(craft);
    const auto has = craft.rotor_w();
    if (!from || !has) return std::nullopt;
    const auto left = [&](double deg) {
        return *has - (climbing ? climb(craft, deg).power_w : standing_w(craft, deg));
    };
    if (left(most_pitch_deg) > 0) return std::nullopt;
    return crossing(left, *from, most_pitch_deg);
}

std::optional<double> stall_deg(const Craft& craft) {
    const auto whole = [&](double deg) { return lift(craft.disc, craft.air(), deg * degree).stalled_share <= 0; };
    if (whole(most_pitch_deg)) return std::nullopt;
    double low = 0, high = most_pitch_deg;
    while (high - low > 1e-3) (whole((low + high) / 2) ? low : high) = (low + high) / 2;
    return high;
}

}  // namespace swashwright::studies
