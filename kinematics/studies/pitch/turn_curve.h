// How does every blade's pitch go through one turn of the rotor, sticks held?
#pragma once

#include <cstddef>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::studies {

/// One blade through one turn, degrees.
struct BladeTurn {
    std::vector<double> pitch_deg;  // at each sample
    double mean_deg = 0;
    double least_deg = 0;  // of the samples
    double most_deg = 0;
};

struct TurnCurve {
    std::vector<double> azimuth_deg;  // rotor azimuth psi of each sample: evenly spaced from 0, 360 left out
    std::vector<BladeTurn> blades;

    /// Mean pitch compared: cyclic pitch cancels over a turn, so what is left is a difference between the blades.
    std::size_t lowest_blade = 0, highest_blade = 0;  // from 0
    double split_deg() const { return blades[highest_blade].mean_deg - blades[lowest_blade].mean_deg; }
};

/// At least `samples` samples, rounded up to a multiple of the number of blades so that every blade is sampled at the
/// same places on the disc. Fails where the loop does not close somewhere in the turn; the message says at which
/// azimuth.
head::Result<TurnCurve> turn_curve(const head::Head& head, const head::Sticks& sticks, int samples = 120);

}  // namespace swashwright::studies
