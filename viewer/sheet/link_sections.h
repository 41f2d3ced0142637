// What the sheet says about the links.
#pragma once

#include "kinematics/head/head.h"
#include "kinematics/studies/pitch/sensitivity.h"
#include "viewer/sheet/content.h"

namespace swashwright::sheet {

/// Lengths in every form that a calliper reads, how finely each can be set, and what to turn now for a level ring and
/// zero pitch, on a tail for the slider in its place and the pitch as drawn.
Section link_table(const head::Description& description);
/// Every link to lay the real one on. A link's length is the one that it should have: its error is left out.
Section link_gauges(const head::Description& description);
/// What a tenth of a millimetre on each link does.
Section link_effects(const studies::Sensitivity& sensitivity);

}  // namespace swashwright::sheet
