// Which part makes two blades take different pitch? Found by mending the parts one by one and posing the head again.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/pitch/turn_curve.h"

namespace swashwright::studies {

/// Something about a head that is not as its neighbours are, or not as it was set.
struct Suspect {
    std::string words;                             // "upper link 2 is 0.30 mm too long"
    int blade = -1;                                // whose part it is, from 0; -1 if no single blade's
    std::function<void(head::Description&)> mend;  // makes it right
};

/// Link errors (every link) and whatever differs from blade to blade: lengths, pitch arms, offsets, outer balls.
std::vector<Suspect> blade_suspects(const head::Description& description);
/// Lower links that are off or not as the others, servo trims, and servos driven against what their horns show: what
/// tilts a ring that should be level.
std::vector<Suspect> ring_suspects(const head::Description& description);

struct Cause {
    bool found = false;  // with it mended the effect is gone
    std::string words;   // the cause, or a clause that says that no single part is it
    int blade = -1;      // whose part, where it is one blade's
};

/// Why mean pitch over a turn differs between the curve's highest and lowest blade.
Cause split_cause(const head::Head& head, const head::Sticks& sticks, const TurnCurve& curve);
/// Why the ring is tilted by `tilt_deg` at these sticks.
Cause tilt_cause(const head::Head& head, const head::Sticks& sticks, double tilt_deg);

}  // namespace swashwright::studies
