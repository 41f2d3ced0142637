// How does every blade's pitch answer to chosen numbers, all round one turn?
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"

namespace swashwright::studies {

/// slopes[place](blade, number): exact slopes of blade pitch, deg per mm or deg, at each rotor azimuth asked for, and
/// the pitch itself, pitch_deg[place](blade).
struct TurnSlopes {
    std::vector<Eigen::MatrixXd> slopes;
    std::vector<Eigen::VectorXd> pitch_deg;

    Eigen::MatrixXd mean_slopes() const;  // over the places
    Eigen::VectorXd mean_pitch_deg() const;
};

/// So many rotor azimuths, deg, evenly spaced from 0.
std::vector<double> turn_azimuths(int count);

/// Fails where the head cannot be posed or stands at a dead point; the message says at which azimuth.
head::Result<TurnSlopes> turn_slopes(const head::Head& head, const head::Sticks& sticks,
                                     std::span<const head::Number> numbers, std::span<const double> azimuths_deg);

}  // namespace swashwright::studies
