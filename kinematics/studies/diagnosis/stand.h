// What all readings of a sitting share beside the fault: the gauge's zero, how the shaft leans where the gauge reads
// from level, and, where there are readings from before, how this head was built.
#pragma once

#include <Eigen/Core>
#include <cmath>

#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::studies {

struct Estimate {
    double value = 0, deviation = 0;  // one standard deviation

    /// Farther from 0 than two deviations.
    bool told() const { return std::abs(value) > 2 * deviation; }
};

/// What the readings say of it. All 0 where the gauge was checked, or cannot show it.
struct Stand {
    Estimate zero_deg;          // the gauge reads high by this
    Estimate lean_forward_deg;  // the top of the shaft to the nose
    Estimate lean_right_deg;

    bool told() const { return zero_deg.told() || leans(); }
    bool leans() const { return lean_forward_deg.told() || lean_right_deg.told(); }
};

/// One standard deviation of zero, lean forward and lean right before anything is read, deg. Zeroed on the blade, the
/// zero is the blade's own pitch at mid stick: as good as free.
Eigen::Vector3d usual_stand(const Gauge& gauge);

/// How the readings move with zero, lean forward and lean right, each deg over a reading's uncertainty. A shaft whose
/// top leans forward by f and right by r turns the model by (r, f, 0) about the head frame's axes; a gauge shows the
/// part about the blade's axis, which stands at azimuth a: s (r cos a + f sin a), s the spin's sign. To first order in
/// the lean. Ring heights are measured from the model and do not move.
Eigen::MatrixXd stand_slopes(const head::Description& description, const Readings& readings, RowsOf rows);

/// What every explanation shares, normally distributed, on the rows of every blade and over the uncertainties; the
/// readings' own noise is not in it.
struct Shared {
    Eigen::VectorXd mean;        // more than the head as described shows: what readings from before say
    Eigen::MatrixXd covariance;  // of the rows
    Eigen::MatrixXd stand;       // `stand_slopes`
    Eigen::Vector3d usual;       // `usual_stand`
};

/// With readings from before: every number of the head may be off by its usual tolerance (one standard deviation), and
/// what was read before, with a zero and a lean of its own, narrows that: the normal distribution of the rows given the
/// earlier ones (e.g. Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, eq. 2.19; from memory).
/// None where the head cannot take one of the earlier poses.
std::optional<Shared> shared(const head::Head& head, const Readings& readings,
                             const std::vector<head::Number>& numbers);

/// How far the pitch readings may be from what the head as described shows, deg, because every number of it is known
/// only within its usual tolerance: one standard deviation, of the reading that it moves most. Where that is more than
/// the readings' uncertainty, what is small may be how the head was built, and only readings from before tell.
double described_within_deg(const head::Head& head, const Readings& readings, const std::vector<head::Number>& numbers);

}  // namespace swashwright::studies
