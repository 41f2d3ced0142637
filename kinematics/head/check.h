// What one part of a description must hold to, for messages at its place in a file. `check` in build.h asks all of
// them.
#pragma once

#include <string>

#include "kinematics/head/description.h"

namespace swashwright::head {

// A sentence where something is wrong, else empty. Parts count from 0; names that a part refers to must be looked at
// too: a carrier that is not there, a lever that over others stands on itself.
std::string check_lever(const Description& description, std::size_t lever);
std::string check_slider(const Description& description, std::size_t slider);
std::string check_fixed_ball(const Description& description, std::size_t ball);
/// A grip moves with a lever that stands, by itself or on other levers, on the hub.
std::string check_grip(const Description& description, std::size_t grip);

}  // namespace swashwright::head
