// What moves over one turn of the rotor with the sticks held: the path of every ball, and where each blade's tip would
// fly. GL-free; head frame, mm.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "kinematics/head/head.h"
#include "viewer/draw/base/part.h"

namespace swashwright::draw {

/// A closed path: the last point joins the first.
struct Trace {
    Part part;  // the upper link whose ball it is, the grip of a hinged link, or the blade
    std::vector<Vec3> points;
};

struct Traces {
    std::vector<Trace> balls;    // both ends of each upper link, then the balls of levers on grips
    std::vector<Trace> tips;     // of each blade, at the shaft axis distance `tips_at_mm`, heights magnified
    std::vector<double> tip_mm;  // how far each tip flies above the mean of all: an upper-side estimate for hover
    double tips_at_mm = 0;
    double magnified = 1;  // how many times larger than true the tips' heights are drawn
};

/// None if the loop does not close somewhere in the turn. Tips fly just outside the blades that are drawn: whole ones,
/// or stubs. `hand_deg` as of `head::Head::pose`. Without blade numbers to balance, and on a tail, there are no tips.
std::shared_ptr<const Traces> traces_of(const head::Head& head, const head::Sticks& sticks, bool whole_blades,
                                        int samples = 120, std::span<const double> hand_deg = {});

}  // namespace swashwright::draw
