// Which sticks bring a reading to a wanted value, or why none do: the solver's exact slopes followed backwards, from
// where the sticks stand.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::studies {

/// A reading of `head::Pose` and where it is wanted, in its own unit and sign.
struct Aim {
    enum class What { pitch_deg, height_mm, tilt_forward_deg, tilt_right_deg, horn_deg };
    What what = What::pitch_deg;
    int index = 0;      // of the blade or servo; it must be there
    double wanted = 0;  // finite
    bool keep = false;  // give way where not all can be had: kept as nearly as the other aims let it
};

/// The sticks that may move. Others stay where they are.
struct SteerBy {
    bool collective = false, aileron = false, elevator = false, rudder = false;
};

struct Steered {
    head::Sticks sticks;          // within what the transmitter lets through
    head::Pose pose;              // there, as `Head::pose` has it
    std::vector<double> reached;  // one for each aim
    bool there = false;           // every aim but those that give way, within `steered_within`
    std::string why_not;          // a sentence; empty where it is there
};

/// Degrees or millimetres.
inline constexpr double steered_within = 1e-6;

/// Gauss-Newton steps of least length in the sticks, each held back to what the transmitter lets through and halved
/// until the aims come nearer, so that of many sticks that would do those nearest to `from` are found, and where none
/// do the way ends at the sticks' end, at a dead point or where no stick helps. An end on the edge of the cyclic stick
/// need not be the nearest that the edge allows. Fails where the head cannot be posed at `from`.
head::Result<Steered> steer(const head::Head& head, const head::Sticks& from, double azimuth_deg,
                            std::span<const double> hand_deg, std::span<const Aim> aims, const SteerBy& by);

/// "collective +0.43, aileron -0.10": the sticks that stand elsewhere than before; empty if none do.
std::string moved_words(const head::Sticks& before, const head::Sticks& now);

}  // namespace swashwright::studies
