// The first questions at the bench: which way must every servo turn, where to hold the gauge, and which phase setting?
#pragma once

#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/pitch/harmonics.h"
#include "kinematics/studies/pitch/tail_directions.h"

namespace swashwright::studies {

/// One servo and one stick moved from centre to its end: up, right or forward.
struct ShaftTurn {
    double horn_deg =
        0;  // change, about the output shaft's direction: above 0 is anticlockwise seen on the horn's face
    double pulse_us = 0;  // change
    double ball_mm = 0;   // rise of the horn ball
};

struct ServoDirections {
    std::array<ShaftTurn, 3> turns;  // stick up, right, forward
    /// A longer pulse lowers the horn ball, so a mixer that counts raising as positive needs it reversed. Where each
    /// stick has a servo of its own: a longer pulse is the wrong way for its stick up, right or forward.
    bool reverse = false;
    std::vector<std::size_t> opposite_to;  // servos whose channels must run the other way, if all are alike
};

/// Where cyclic shows on a gauge.
struct GaugePlace {
    double azimuth_deg = 0;         // of the blade under the gauge: where the swing that full stick makes is highest
    double position_deg = 0;        // the same from the nose, positive to the left
    double pitch_deg = 0;           // added to blade 1 there by full stick, as a gauge shows it
    double swing_deg = 0;           // added by full stick: first harmonic, blades averaged
    double wanted_azimuth_deg = 0;  // where the highest pitch should be for the disc to tilt as the stick says
    double off_deg = 0;             // azimuth minus wanted
    /// The disc tilts to the other side rather than to the one that the stick says: no phase, but a sign in the mix.
    bool wrong_way() const { return std::abs(off_deg) > 90; }
};

/// A phase that differs by less is not worth setting: the lag that it rests on is not known any better. For blades of
/// Lock number 3 to 5 and dampers or a hinge that bring the flap frequency to 1.02 to 1.05 of the shaft's, it is 4 to
/// 15 deg less than 90: tan(lag) = (gamma / 8) / (nu^2 - 1), Johnson, Helicopter Theory (from memory).
inline constexpr double phase_worth_setting_deg = 5;

struct Directions {
    double lag_deg = 90;  // assumed between highest pitch and highest flap
    std::vector<ServoDirections> servos;
    /// The scene says which way a longer pulse turns a servo: any pulse_deg_per_us that is not the default. Else only
    /// which channels must run opposite to each other can be told, of servos that are alike.
    bool pulses_measured = false;
    bool up_raises_pitch = true;
    GaugePlace aileron, elevator;
    std::optional<double> phase_deg;  // that makes pure elevator tilt the disc fore and aft; none where no phase does
    GaugePlace aileron_then;          // with that phase
    std::optional<TailDirections> tail;  // in place of all above
};

/// The disc's highest point is taken to lie `lag_deg` behind the highest pitch, in the direction of rotation. Fails
/// where full cyclic does not close.
head::Result<Directions> directions(const head::Head& head, double lag_deg = 90);

/// Of a stick that goes the wrong way where each has a servo of its own: there is no mix to change.
std::string wrong_stick_words(const std::string& stick);

Answer answer(const Directions& questions, const head::Description& description);

}  // namespace swashwright::studies
