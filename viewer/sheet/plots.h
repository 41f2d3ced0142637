// What plots show, from the studies' results.
#pragma once

#include "kinematics/studies/envelope.h"
#include "kinematics/studies/pitch_range.h"
#include "kinematics/studies/turn_curve.h"
#include "viewer/sheet/content.h"

namespace swashwright::sheet {

/// Mean pitch of every blade over the collective stick, with the highest and lowest that full cyclic makes of it.
Plot range_plot(const studies::PitchRange& range);
/// Every blade's pitch through one turn, sticks held.
Plot turn_plot(const studies::TurnCurve& curve, const head::Sticks& sticks);
EnvelopeMap envelope_map(const studies::Envelope& envelope);

}  // namespace swashwright::sheet
