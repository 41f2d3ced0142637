// Which way must a tail's servo turn and its blades move for a nose that goes right, and how is that checked by hand?
#pragma once

#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies {

/// The rudder stick moved from its centre to one end.
struct RudderEnd {
    double rudder = 0;               // -1 left, 1 right
    double slider_mm = 0;            // how far the pitch slider goes, away from the boom positive
    std::vector<double> pitch_deg;   // of each blade there
    std::vector<double> change_deg;  // from centred stick; above 0 leading edges go away from the boom
    std::vector<double> horn_deg;    // of each servo, change about the output shaft's direction
    std::vector<double> pulse_us;    // of each servo, change
};

struct TailDirections {
    RudderEnd left, right;

    double right_change_deg() const;  // mean over the blades
};

/// Fails where an end does not close.
head::Result<TailDirections> tail_directions(const head::Head& head);

/// What the scene does not know, on which side of the boom the blades stand, is left to the reader.
Answer answer(const TailDirections& directions, const head::Description& description);

}  // namespace swashwright::studies
