// The parts of a head as pictures name them.
#pragma once

#include "kinematics/head/part.h"

namespace swashwright::draw {

using head::is_link;
using head::part_of;
using head::Role;
using Part = head::PartName;

}  // namespace swashwright::draw
