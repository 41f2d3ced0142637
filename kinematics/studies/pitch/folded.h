// Setting up without a gauge: what two folded blades show of the pitch, and how high each ball of a level ring stands.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/pitch/harmonics.h"

namespace swashwright::studies {

struct FoldedOptions {
    head::Sticks sticks;
    double azimuth_deg = 0;
    double fold_deg = 90;           // by which both blades are swung about their bolts, above 0 to 90
    std::optional<double> seen_mm;  // height difference between the tips that was seen, tip of blade 1 less blade 2
};

/// Height of the tip of blade 1 over that of the blade opposite when both are swung to the side towards which blade 1
/// leads: L sin f cos c (sin theta1 + sin theta2), L from bolt to tip, c the precone. Derived: a blade at pitch theta
/// swung forward by f lifts its tip L sin f sin theta square to its coned axis; the one opposite is swung backward and
/// so goes down by as much. What the cone itself lifts is the same for both.
double tip_difference_mm(double bolt_to_tip_mm, double fold_deg, double precone_deg, double pitch_1_deg,
                         double pitch_2_deg);

struct BallHeight {
    std::string part, words;
    double level_mm = 0;    // above the head frame's origin, for a level ring at its nominal height
    double present_mm = 0;  // in the pose looked at
};

struct Folded {
    std::optional<std::size_t> opposite;  // the blade opposite blade 1, from 0; none with an odd number of blades
    /// To which side of the model both blades are swung: that towards which blade 1 leads, deg from the nose, positive
    /// anticlockwise from above.
    double side_azimuth_deg = 0;
    double bolt_to_tip_mm = 0;
    bool bolt_given = false;                            // in the scene; else a tenth of blade_tip_mm
    double pitch_deg[2] = {0, 0};                       // of blade 1 and of the blade opposite
    double difference_mm = 0;                           // between the tips
    double mm_per_deg = 0;                              // of mean pitch, near zero
    std::optional<double> seen_mean_deg;                // mean pitch that the difference seen stands for
    std::vector<BallHeight> balls;                      // inner balls, then outer
    double present_height_mm = 0, level_height_mm = 0;  // of the tilt centre
    double present_tilt_deg = 0;
    std::string zero = {};  // from where heights count
    bool ring_tilts = true;
    bool tail = false;  // "above" is then farther from the boom, and no side of the model can be named
};

head::Result<Folded> folded(const head::Head& head, const FoldedOptions& options = {});

Answer answer(const Folded& folded, const FoldedOptions& options);

}  // namespace swashwright::studies
