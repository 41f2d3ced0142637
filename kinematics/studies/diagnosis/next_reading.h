// Which reading to take next? The one whose outcome is least certain: it narrows the suspects most (D-optimal).
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::studies {

/// By how much one reading with row f (over its uncertainty) shrinks the sizes' joint uncertainty of covariance P:
/// half the logarithm of 1 + f^T P f, nats. Sequential D-optimal design (Fedorov; Silvey, Optimal Design).
double information_gain(const Eigen::VectorXd& row, const Eigen::MatrixXd& covariance);

struct Advice {
    PitchReading where;               // `reading_deg` is what the most probable hypothesis expects
    double gain = 0;                  // nats
    std::optional<double> rival_deg;  // what the next probable hypothesis expects there
    std::vector<int> shows = {};      // of the suspects that the readings so far do not show: those that it would
};

/// Pitch readings that a bench offers: every blade, collective -1, 0, 1, cyclic centred or full to one of four sides
/// (of a tail rudder -1, 0, 1), azimuth every 30 deg.
std::vector<PitchReading> reading_grid(int blades, double uncertainty_deg = 0.1, head::Kind kind = head::Kind::main);

/// Rows of `slopes` for faults with a size; for one without, the change that it makes, as if half of it could be there.
Eigen::MatrixXd effect_rows(const head::Head& head, const Readings& readings, std::span<const Fault> faults);

/// One standard deviation of each size before anything is read; 1 for a fault without size.
Eigen::VectorXd usual_sizes(std::span<const Fault> faults);

/// Where to read next, best first, given the head as now believed, what has been read, and the suspects still in
/// question: what a reading says of them, zero and lean averaged over (D_s-optimal: Silvey). Poses that the head cannot
/// take are left out.
std::vector<Advice> next_readings(const head::Head& head, const Readings& readings, std::span<const Fault> suspects,
                                  std::size_t count);

/// Fills in `Advice::shows`: of the suspects with these indices, those that would show.
void note_shown(const head::Head& head, const Readings& readings, std::span<const Fault> suspects,
                const std::vector<int>& unseen, std::vector<Advice>& advice);

/// By how much the same readings would narrow the suspects more if the gauge were zeroed on the shaft, nats; 0 if it
/// is.
double gain_on_shaft(const head::Head& head, const Readings& readings, std::span<const Fault> suspects);

/// Suspects whose effects on every reading of the grid, and on the heights of the inner balls, are one and the same but
/// for scale: the first, and what it equals (one other suspect, or several together).
struct Twins {
    int fault = 0;
    std::vector<int> same_as;
};
std::vector<Twins> find_twins(const head::Head& head, std::span<const Fault> suspects);

}  // namespace swashwright::studies
