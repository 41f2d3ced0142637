#include "kinematics/studies/power/blade_elements.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "kinematics/studies/power/crossing.h"

namespace swashwright::studies {

namespace {

using std::numbers::pi;

constexpr int rings = 48;

/// Prandtl's factor for the loss at the tip: (2 / pi) acos(exp(-(blades / 2) (1 - x) / inflow)).
double tip_loss(int blades, double x, double inflow) {
    return inflow > 0 ? 2 / pi * std::acos(std::exp(-blades * (1 - x) / (2 * inflow))) : 1;
}

/// Inflow of a ring, over tip speed; `climb` too.
double inflow_of(const RotorDisc& disc, double pitch, double x, double climb) {
    const double solidity = disc.solidity();
    const auto more_lift = [&](double inflow) {
        const double pushed = 4 * tip_loss(disc.blades, x, inflow) * inflow * (inflow - climb);
        return solidity / 2 * disc.section.lift_at(pitch - inflow / x) * x - pushed;
    };
    // Where the climb meets the ring from above, air slowed to less than half of it is past the theory.
    const double still = pitch * x;
    return crossing(more_lift, std::min(climb, std::max(climb / 2, still)), std::max(climb, still));
}

}  // namespace

double BladeSection::lift_at(double angle) const {
    const double lift = lift_slope * angle;
    return most_lift ? std::clamp(lift, -*most_lift, *most_lift) : lift;
}

double BladeSection::drag_at(double angle) const {
    const double beyond = most_lift ? std::max(0.0, std::abs(angle) - stall_angle()) : 0;
    return drag + drag_rise * angle * angle + stalled_rise * beyond * beyond;
}

double RotorDisc::area_m2() const {
    return pi * tip_m * tip_m;
}

double RotorDisc::solidity() const {
    return blades * chord_m / (pi * tip_m);
}

Lift lift(const RotorDisc& disc, const RotorAir& air, double pitch) {
    const double tip_speed = air.speed * disc.tip_m, size = std::abs(pitch);
    if (!(tip_speed > 0) || !(air.density > 0) || !(disc.root_m < disc.tip_m)) return {};
    const double climb = air.climb / tip_speed, solidity = disc.solidity(), root = disc.root_m / disc.tip_m;
    double thrust = 0, power = 0, stalled = 0;  // coefficients
    for (int i = 0; i < rings; ++i) {
        // Closer towards the tip, where lift falls off as a square root.
        const double outer = static_cast<double>(i) / rings, inner = static_cast<double>(i + 1) / rings;
        const double middle = (outer + inner) / 2;
        const double x = 1 - (1 - root) * middle * middle, dx = (1 - root) * 2 * middle * (inner - outer);
        const double inflow = inflow_of(disc, size, x, climb), angle = size - inflow / x;
        const double lifted = solidity / 2 * disc.section.lift_at(angle) * x * x * dx;
        thrust += lifted;
        power += inflow * lifted + solidity / 2 * disc.section.drag_at(angle) * x * x * x * dx;
        if (disc.section.most_lift && std::abs(angle) > disc.section.stall_angle()) stalled += dx / (1 - root);
    }
    const double force = air.density * disc.area_m2() * tip_speed * tip_speed;
    const double sign = pitch < 0 ? -1 : 1;
    return {sign * thrust * force, power * force * tip_speed, sign * thrust / solidity, stalled};
}

SimpleHover simple_hover(const RotorDisc& disc, const RotorAir& air, double thrust_n) {
    const double tip_speed = air.speed * disc.tip_m, solidity = disc.solidity();
    const double force = air.density * disc.area_m2() * tip_speed * tip_speed;
    if (!(force > 0) || !(thrust_n >= 0)) return {};
    const double thrust = thrust_n / force, inflow = std::sqrt(thrust / 2);
    const double power = usual_induced_loss * thrust * inflow + solidity * disc.section.drag / 8;
    return {6 * thrust / (solidity * disc.section.lift_slope) + 1.5 * inflow, inflow, power * force * tip_speed};
}

}  // namespace swashwright::studies
