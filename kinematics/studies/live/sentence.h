// What is the head doing, and why? One line in plain words, for the top of the window and for the console.
#pragma once

#include <string>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/pitch/turn_curve.h"

namespace swashwright::studies {

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
/// Left out, the sentence tells what is seen alone: no part that is the cause, nothing to change, and of two blades
/// that differ not the one at fault. For whoever is to find it.
enum class Causes { told, left_out };
/// The same with the turn curve at hand, to spare its cost.
Sentence sentence(const head::Head& head, const head::Sticks& sticks, double azimuth_deg,
                  const head::Result<TurnCurve>& curve, Causes causes = Causes::told);
/// For a description that cannot be a head.
Sentence sentence(const head::Failure& failure);

}  // namespace swashwright::studies
