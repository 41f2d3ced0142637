// Every number of a head by name: to read, to write, and as a rate of change of the linkage.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::head {

class Head;

enum class Unit { mm, deg, none };

/// What a number measures; names the `Parameter` together with its indices.
enum class Measure {
    pivot_x,
    pivot_y,
    pivot_z,
    pivot_radius,
    pivot_azimuth,
    pivot_height,
    horn_length,
    horn_neutral,
    horn_trim,
    inner_ball_radius,
    inner_ball_azimuth,
    inner_ball_height,
    guide_pin_azimuth,
    guide_turn,
    outer_ball_radius,
    outer_ball_ahead,
    outer_ball_height,
    driver_pin_radius,
    driver_pin_ahead,
    driver_pin_height,
    driver_turn,
    lower_length,
    lower_error,
    upper_length,
    upper_error,
    arm_along,
    arm_lead,
    arm_up,
    pitch_offset,
    hub_height,
    precone,
    collective_gain,
    cyclic_gain,
    phase,
};

struct Parameter {
    Measure measure = Measure::lower_length;
    int index = 0;      // servo, link, ball, pin or blade, from 0
    std::string path;   // as in a scene file, counted from 1: "upper_link[2].length_mm"
    std::string label;  // as a builder says it: "upper link 2, length"
    Unit unit = Unit::mm;
};

/// Every number of the description that moves something, in the order of a scene file.
std::vector<Parameter> parameters(const Description& description);

/// The number itself. The parameter must belong to this description.
double& value(Description& description, const Parameter& parameter);
double value(const Description& description, const Parameter& parameter);

/// The same head with what the transmitter holds written down: the azimuths that its mixer was set up with, and each
/// servo's sense. Balls and horns that are then moved are a matter of metal and leave the mixer as it is.
Description mixer_kept(Description description);

/// The rate at which the linkage changes with the number, per mm or per deg, appended to `out`. Trims and neutrals turn
/// their horn, `sticks` say how far the mixing's numbers do; an inner ball's azimuth moves the ball, not the mixer (see
/// `mixer_kept`). A pitch offset moves no body: it adds to its own blade's pitch one for one.
void rates(const Head& head, const Parameter& parameter, const Sticks& sticks, std::vector<linkage::Change>& out);

}  // namespace swashwright::head
