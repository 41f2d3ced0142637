// How much pitch can the engine carry? Hover, climb, where power is used up, and where maximum pitch may begin.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/power/craft.h"

namespace swashwright::studies {

/// Head speed read in flight, turns a minute: in hover before, and in a flat-out climb as long as it sags no further.
struct Tachometer {
    double before_rpm = 0, climbing_rpm = 0;
    std::optional<double> pitch_deg;  // in that climb; none: that of full stick
};

/// In place of what the description has.
struct PowerOptions {
    head::Sticks sticks = {};  // whose pitch is marked
    std::optional<double> head_speed_rpm = {}, mass_kg = {}, engine_w = {}, efficiency = {}, temperature_c = {},
                          height_m = {};
    std::optional<Tachometer> tachometer = {};
};

/// What the answer turns on. Also how far each may be off: one standard deviation or so.
struct PowerFigures {
    std::optional<double> hover_deg, hover_w;  // power at the rotor
    std::optional<double> used_deg;            // all power used in a steady climb
    std::optional<double> climb_m_s;           // there
    std::optional<double> first_deg;           // all power used before the model has moved
    std::optional<double> engine_w;            // by the tachometer
};

/// One pitch. What one degree more changes is from half a degree below to half a degree above.
struct PitchRow {
    std::string words;  // "hover"
    double pitch_deg = 0;
    std::optional<double> doubt_deg;
    double thrust_percent = 0;  // of the weight, before it has moved
    double standing_w = 0;      // at the rotor, before it has moved
    Climb climb;
    double loading = 0;                                              // C_T over solidity, before it has moved
    double stalled_percent = 0;                                      // of the blade, the same
    double more_loading = 0, more_standing_w = 0, more_climb_w = 0;  // by one degree more
};

/// The same at another head speed. Figures without a value: it does not hover, or power is left, or is not known.
struct SpeedRow {
    double rpm = 0;
    PowerFigures figures;
    std::optional<double> loading;  // in hover
};

/// Horn travel at full collective for a pitch at both ends, cyclic as it is; none where the linkage does not reach.
struct TravelRow {
    double pitch_deg = 0;
    std::optional<double> collective_deg;
    bool within_travel = false;
};

struct Power {
    PowerOptions options;
    Craft craft;
    PowerFigures figures, doubts;
    double now_deg = 0, full_deg = 0;  // mean pitch at the sticks asked for, cyclic centred; at full collective
    std::optional<double> stall_deg;
    std::optional<std::array<double, 2>> start_deg;  // where maximum pitch may begin; none where power is not known
    SimpleHover simple;                              // of the textbooks' short form, in hover
    std::vector<PitchRow> places, curve;             // curve: whole degrees from 0 to an even one
    std::vector<SpeedRow> speeds;
    std::vector<TravelRow> travels;
    double horn_deg = 0;  // at full collective now
};

/// Of a main rotor. Fails on a tail, where the rotor stands still, where the loop does not close at full collective or
/// at the sticks asked for, and where the tachometer's climb is none.
head::Result<Power> power(const head::Head& head, const PowerOptions& options = {}, const Going& going = {});

Answer answer(const Power& power);

}  // namespace swashwright::studies
