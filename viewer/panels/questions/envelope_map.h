// The stick envelope as a map: collective against cyclic, by how near the nearest check comes to its bound.
#pragma once

#include "kinematics/studies/envelope/envelope.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/questions/map_cell.h"

namespace swashwright::panels {

/// A press tells below the map what comes nearest to its limit in that cell, lights the parts and looks at them;
/// nothing moves until that is asked for. The arrow keys go from cell to cell, Enter presses.
void draw_envelope_map(Screen& screen, Bench& bench, Selection& selection, const studies::Envelope& envelope,
                       MapMark& mark);

}  // namespace swashwright::panels
