// Which positions of the sticks the transmitter lets through: one envelope for every study and for the window.
#pragma once

#include <array>
#include <string>

#include "kinematics/head/description.h"
#include "kinematics/head/head.h"

namespace swashwright::head {

/// How far the cyclic stick is from its centre: 0 there, 1 on the edge of its circle or square.
double cyclic_out(CyclicStick shape, double aileron, double elevator);

/// Sticks with cyclic so far out; its direction is 0 for elevator forward and grows towards aileron right.
Sticks sticks_at(CyclicStick shape, double collective, double out, double direction_deg);

/// How far out the cyclic stick gets at a collective, at most 1; below 0 where the collective itself is beyond the
/// combined limit.
double most_cyclic_out(const Mixing& mixing, double collective);

/// Within the envelope, but for what two decimals of each stick can be off.
bool lets_through(const Mixing& mixing, const Sticks& sticks);

/// The sticks as the transmitter lets them through. Collective comes first; cyclic is then drawn straight in to the
/// edge of a circle, or each axis to that of a square.
Sticks held_back(const Mixing& mixing, const Sticks& sticks);

/// Both let the same sticks through.
bool same_envelope(const Mixing& a, const Mixing& b);

/// The largest horn command, either way, that the sticks can give; `gains_deg` of each at full stick.
double most_command_deg(const Mixing& mixing, const StickGains& gains_deg);

/// "circle" or "square".
const char* word(CyclicStick shape);

/// "the cyclic stick in a circle", and the combined limit where there is one.
std::string envelope_words(const Mixing& mixing);

}  // namespace swashwright::head
