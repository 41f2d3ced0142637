// What of a blade's pitch is steady, and what swings once, twice, three times a turn?
#pragma once

#include <array>
#include <functional>
#include <span>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/head/solver.h"

namespace swashwright::studies {

/// One harmonic: cosine and sine part over the blade's azimuth, in the unit of the samples.
struct Harmonic {
    double cosine = 0, sine = 0;

    double amplitude() const;
    /// Azimuth (deg, 0 to under 360) of the first maximum of harmonic `order`; 0 where the amplitude is 0.
    double azimuth_of_most_deg(int order = 1) const;
};

struct Harmonics {
    double mean = 0;
    std::array<Harmonic, 3> of;  // once, twice, three times a turn

    const Harmonic& first() const { return of[0]; }
};

/// Of samples evenly spaced over one turn, the first at `from_deg`, the last one step before it again. Seven samples or
/// more keep the three harmonics apart (Nyquist); what lies above half their number folds back.
Harmonics harmonics(std::span<const double> samples, double from_deg = 0);

/// How many samples a turn the studies take: a multiple of every number of blades from 2 to 6 but 5. Harmonics up to
/// the 20th stay out of the three that are read; the 21st would fold back onto the third.
inline constexpr int turn_samples = 24;

/// Each blade's pitch over its own azimuth (0 over the tail, growing in the direction of rotation), so that blades
/// compare. Fails as `turn_curve` does.
head::Result<std::vector<Harmonics>> pitch_harmonics(const head::Head& head, const head::Sticks& sticks);

/// How every blade's harmonics change with one number of the head: exact slopes, per unit of the number. Fails where
/// the loop does not close or stands at a dead point.
head::Result<std::vector<Harmonics>> harmonic_slopes(const head::Head& head, const head::Sticks& sticks,
                                                     const std::function<void(head::Solver&, head::Slopes&)>& slopes);

/// A first harmonic less another, as vectors: what a stick adds to a swing that is there without it.
Harmonic difference(const Harmonic& with, const Harmonic& without);
/// What cyclic does, blades averaged: the amplitude of each blade's first harmonic with it less that without.
double swing_added(const std::vector<Harmonics>& with, const std::vector<Harmonics>& without);

/// Rate of change of a first harmonic's amplitude, and of its azimuth of most (deg), given that of its two parts.
double amplitude_slope(const Harmonic& at, const Harmonic& slope);
double azimuth_slope_deg(const Harmonic& at, const Harmonic& slope);

/// An angle brought into (-180, 180].
double within_half_turn(double angle_deg);

/// Blade k's own azimuth, given blade 1's, deg.
inline double blade_azimuth_deg(double azimuth_deg, std::size_t blade, std::size_t blades) {
    return azimuth_deg + 360.0 * static_cast<double>(blade) / static_cast<double>(blades);
}

/// Where a blade at this azimuth points, from the nose, positive anticlockwise seen from above, deg.
double position_deg(const head::Description& description, double blade_azimuth_deg);

}  // namespace swashwright::studies
