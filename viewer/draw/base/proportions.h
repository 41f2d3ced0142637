// Sizes that a description does not give, the same for the drawing as for clearance.
#pragma once

#include "kinematics/head/proportions.h"

namespace swashwright::draw {

using head::Proportions;
using head::proportions_of;

}  // namespace swashwright::draw
