// The stick envelope as a map: collective against cyclic, by how near the nearest check comes to its bound.
#pragma once

#include "kinematics/studies/envelope/envelope.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"

namespace swashwright::panels {

/// A press goes to the place of the pressed cell where its worst check stands worst.
void draw_envelope_map(Screen& screen, Bench& bench, Selection& selection, const studies::Envelope& envelope);

}  // namespace swashwright::panels
