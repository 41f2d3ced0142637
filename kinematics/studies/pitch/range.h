// How far do the blades go with the sticks, how evenly, and how finely? And which horn travel gives the ends wanted?
#pragma once

#include <array>
#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/pitch/harmonics.h"

namespace swashwright::studies {

/// Cyclic centred, one position of the collective; of a tail's rudder.
struct CollectiveRow {
    double collective = 0;
    double height_mm = 0;           // of the ring's tilt centre, blade 1 over the tail
    std::vector<double> mean_deg;   // pitch of each blade, mean over a turn
    std::vector<double> slope_deg;  // of each blade's mean per full stick, exact
    std::vector<double> once_deg;   // swing of each blade that is there without cyclic: amplitude of the first harmonic
};

/// One stick position around a turn, each blade over its own azimuth.
struct TurnRow {
    head::Sticks sticks;
    std::vector<Harmonics> pitch_deg;
};

/// What full cyclic does at one collective, blades averaged; full is here as far as the transmitter lets it through.
struct Interaction {
    double collective = 0;
    double mean_shift_deg[2] = {0, 0};       // aileron, elevator: mean pitch with full cyclic minus without
    double gain_deg[2] = {0, 0};             // first harmonic with cyclic, less that without
    double gain_change_percent[2] = {0, 0};  // against the same cyclic at collective 0
};

/// Of one servo.
struct ServoEnds {
    double least_us = 0, most_us = 0;    // over all sticks that the transmitter lets through
    double least_deg = 0, most_deg = 0;  // horn about neutral, the same
    bool within_travel = true;
    double step_mean_deg = 0,
           step_once_deg = 0;  // pitch for one microsecond of this servo alone, sticks centred: mean, first harmonic
};

/// What a lever that the scene reads does around a turn, sticks held.
struct OutputRow {
    head::Sticks sticks;
    std::string words;    // "paddle pitch"
    std::string part;     // "lever[2]"
    Harmonics angle_deg;  // over the rotor's azimuth
};

struct PitchRange {
    std::vector<CollectiveRow> collective;  // low, half low, middle, half high, high
    std::vector<TurnRow> cyclic;  // as far as they go at collective -1, 0, 1 (not on a tail); then the stick asked for
    std::vector<Interaction> interaction;  // at collective -1, 0, 1; none on a tail
    std::vector<OutputRow> outputs;        // at all these sticks
    double collective_bend_deg = 0;  // farthest that a blade's mean strays from the line between its ends, anywhere
    double cyclic_bend_percent[2] = {0, 0};  // aileron, elevator: half stick against half of full stick's swing
    double step_collective_deg =
        0;  // pitch for one microsecond on all servos together, the way that collective takes them
    std::vector<ServoEnds> servos;
};

/// `asked`: one more stick position to look at. Fails where the loop does not close at one of the positions, or
/// when stopped.
head::Result<PitchRange> pitch_range(const head::Head& head, const head::Sticks& asked = {}, const Going& going = {});

/// What is said wherever pitch ranges are: common practice, no source.
inline constexpr const char* even_linkage =
    "Ends that differ, such as -3 and +10 deg, are made by the pitch curve of the transmitter; the linkage stays even, "
    "with zero pitch and square horns at mid stick (common practice, no source).";
inline constexpr const char* stabilised =
    "An electronic stabiliser moves the servos by itself: measure in its set-up mode, where it only passes the sticks "
    "on. What counts then is the cyclic that it may use; 6 to 12 deg is usual, more needs free ball links (common "
    "practice, no source).";

/// A sentence about the swing at mid stick that no cyclic makes, blades averaged; empty where it would read 0.00 deg.
std::string own_swing(double deg);

Answer answer(const PitchRange& range, const head::Description& description);

}  // namespace swashwright::studies
