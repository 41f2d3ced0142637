// What turns a blade about its feathering axis in flight: its own mass flung outwards, weights on the grip, the air.
#pragma once

#include "kinematics/head/description.h"
#include "kinematics/studies/pitch/flap.h"

namespace swashwright::studies {

/// Moments of a mass in the frame of its grip: a along the feathering axis from the shaft, x ahead, t up, blade flat.
/// Sums over all of it, kg m^2.
struct MassMoments {
    double ax = 0, at = 0;  // of a x and of a t
    double xx_less_tt = 0;  // of x^2 - t^2
    double xt = 0;

    MassMoments& operator+=(const MassMoments& other);
};

/// Moment of the centrifugal force about the feathering axis, N m, leading edge up positive, of a rigid body that goes
/// round the shaft at `speed` (rad/s) on an axis raised by `cone` (rad) and stands at `pitch` (rad) about it. Exact:
/// the potential -speed^2/2 sum (height above the plane)^2 dm, differentiated by the pitch:
///
///   -speed^2 cos c [ sin c (ax cos p - at sin p) + cos c ((xx - tt) sin p cos p + xt cos 2p) ]
///
/// Without cone and with the mass on the axis that is the propeller moment -speed^2 (I_c - I_t) sin p cos p of the
/// textbooks (W. Johnson, Helicopter Theory, from memory), which lays a blade flat.
double centrifugal_moment_nm(const MassMoments& mass, double pitch, double cone, double speed);

/// All that the loads need of a blade, SI units, with what the description leaves out filled in.
struct LoadBlade {
    BladeNumbers numbers;
    double thickness_m = 0;
    double mass_along_m = 0, mass_ahead_m = 0;  // mass centre: out from the shaft, ahead of the feathering axis
    double spread_m = 0;                        // radius of gyration along the chord about the mass centre
    double quarter_ahead_m = 0;                 // quarter chord ahead of the feathering axis: where lift acts
    double moment_coefficient = 0;
    double lift_slope = 0;
    bool thickness_guessed = false, along_guessed = false, ahead_guessed = false, spread_guessed = false,
         edge_guessed = false, coefficient_guessed = false;
};
LoadBlade load_blade(const head::Description& description);

/// Of the blade about its axis. Its thickness counts as an even plate's, its mass as mirrored about the chord line.
MassMoments mass_moments(const LoadBlade& blade);
MassMoments mass_moments(const head::BalanceWeight& weight);

/// The air of a hovering rotor, as the loads take it.
struct Hover {
    double density = 0;  // kg/m^3
    double speed = 0;    // of the rotor, rad/s
    double inflow = 0;   // through the disc, over tip speed: the same everywhere, and held while cyclic moves blades
    double coning = 0;   // rad, above the precone, by the flap balance
};

/// With the mean pitch of all blades (rad): inflow by momentum theory and blade element, untwisted blades (A. Gessow
/// and G. C. Myers, Aerodynamics of the Helicopter; W. Johnson, Helicopter Theory; from memory): C_T = (solidity slope
/// / 2) (pitch / 3 - inflow / 2), inflow = sqrt(C_T / 2), with the sign of the pitch. Of the precone (rad) the
/// centrifugal force takes back what dampers do not hold, so that blades free to flap cone alike whatever it is.
Hover hover(const LoadBlade& blade, int blades, double mean_pitch, double density, double speed, double precone = 0);

/// Lift of one blade at a pitch (rad), N, upwards: of the strip from the shaft to the tip, without loss at the tip.
double lift_n(const LoadBlade& blade, const Hover& air, double pitch);

/// What turns one blade, N m, leading edge up positive.
struct BladeMoment {
    double propeller = 0;  // its own mass on its own chord line
    double off_axis = 0;   // its mass centre ahead of or behind the axis, with the cone
    double weights = 0;    // on the grip
    double lift = 0;       // at the quarter chord, ahead of or behind the axis
    double section = 0;    // of the section about its quarter chord
    double total() const { return propeller + off_axis + weights + lift + section; }
};

/// `pitch` of the blade, `cone` of its axis (rad), `grip` the angle of its grip (rad) on which `weights` stand.
BladeMoment blade_moment(const LoadBlade& blade, const MassMoments& weights, const Hover& air, double pitch,
                         double grip, double cone);

/// How far off a blade's moment may be, N m, one standard deviation or so: what is guessed of it, each by a usual share
/// (a guess too), as root of the sum of squares.
double moment_doubt_nm(const LoadBlade& blade, const Hover& air, const BladeMoment& moment, double pitch, double cone);

}  // namespace swashwright::studies
