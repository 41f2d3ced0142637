// What plots show, from the studies' results.
#pragma once

#include "kinematics/studies/envelope/envelope.h"
#include "kinematics/studies/loads/load_turn.h"
#include "kinematics/studies/pitch/range.h"
#include "kinematics/studies/pitch/turn_curve.h"
#include "kinematics/studies/power/power.h"
#include "viewer/sheet/content.h"

namespace swashwright::sheet {

struct Range {
    double low = 0, high = 1, step = 1;
};
/// Of a plot's upward axis: whole steps round all values, at least a unit high.
Range y_range(const Plot& plot);

/// Mean pitch of every blade over the collective stick, with the highest and lowest that full cyclic makes of it; of a
/// tail over its rudder.
Plot range_plot(const studies::PitchRange& range, const head::Description& description);
/// Every blade's pitch through one turn, sticks held.
Plot turn_plot(const studies::TurnCurve& curve, const head::Sticks& sticks, const head::Description& description);
/// What each servo must hold through one turn in flight, sticks held, with 0 in sight. An azimuth of the rotor is
/// marked if given.
Plot loads_plot(const studies::LoadTurn& turn, const head::Sticks& sticks, std::optional<double> azimuth_deg,
                const head::Description& description);
/// Power at the rotor over pitch, before the model has moved and in a steady climb, with the engine's line. One pitch
/// is marked, as `marked` calls it.
Plot power_plot(const studies::Power& power, const char* marked, double marked_deg);
EnvelopeMap envelope_map(const studies::Envelope& envelope);

}  // namespace swashwright::sheet
