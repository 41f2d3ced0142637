// What moves over one turn of the rotor with the sticks held: the path of every ball, and where each blade's tip would
// fly. GL-free; head frame, mm.
#pragma once

#include <memory>
#include <vector>

#include "kinematics/head/head.h"
#include "viewer/draw/part.h"

namespace swashwright::draw {

/// A closed path: the last point joins the first.
struct Trace {
    Part part;  // the upper link whose ball it is, or the blade
    std::vector<Vec3> points;
};

struct Traces {
    std::vector<Trace> balls;    // outer ring's and grip's ball of each upper link
    std::vector<Trace> tips;     // of each blade, at the shaft axis distance `tips_at_mm`, heights magnified
    std::vector<double> tip_mm;  // how far each tip flies above the mean of all: an upper-side estimate for hover
    double tips_at_mm = 0;
    double magnified = 1;  // how many times larger than true the tips' heights are drawn
};

/// None if the loop does not close somewhere in the turn. Tips fly just outside the blades that are drawn: whole ones,
/// or stubs. Without blade numbers to balance there are no tips.
std::shared_ptr<const Traces> traces_of(const head::Head& head, const head::Sticks& sticks, bool whole_blades,
                                        int samples = 120);

}  // namespace swashwright::draw
