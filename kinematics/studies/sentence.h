// What is the head doing, and why? One line in plain words, for the top of the window and for the console.
#pragma once

#include <string>

#include "kinematics/head/head.h"
#include "kinematics/studies/turn_curve.h"

namespace swashwright::studies {

enum class Tone {
    calm,     // what the head does, nothing wrong
    notice,   // it works, but something wants looking at
    trouble,  // the loop does not close
};

struct Sentence {
    Tone tone = Tone::calm;
    std::string text;
};

/// The first of these that applies: the loop does not close (here, or elsewhere in the turn); a servo is beyond its
/// travel; a ball link or the ring binds somewhere in the turn; up stick lowers pitch; the blades differ; the ring
/// leans though the cyclic stick is centred; what the sticks do. A cause is named, and a change advised, only if the
/// head behaves once it is made. What is said of blades holds at every azimuth, or is said to be a mean over the turn.
/// Of a tail both ends of the rudder are added, and the play that joints need where links or pins are too many.
Sentence sentence(const head::Head& head, const head::Sticks& sticks, double azimuth_deg);
/// The same with the turn curve at hand, to spare its cost.
Sentence sentence(const head::Head& head, const head::Sticks& sticks, double azimuth_deg,
                  const head::Result<TurnCurve>& curve);
/// For a description that cannot be a head.
Sentence sentence(const head::Failure& failure);

/// A place round the shaft in words: "the nose", "the left", "the tail on the right". Azimuth in degrees from the
/// nose, positive anticlockwise seen from above.
std::string place_in_words(double azimuth_deg);

}  // namespace swashwright::studies
