// The same head with its servos round the ring at other places.
#pragma once

#include <vector>

#include "kinematics/head/description.h"

namespace swashwright::head {

/// Servo j, its horn and inner ball j stand as before, turned together about the shaft until the ball is at azimuth j
/// (deg); links, guide and the rest stay. Only for as many azimuths as there are servos and inner balls; else nothing
/// is turned. Turned so, a head that was level and closed still is.
Description with_servos_at(Description description, const std::vector<double>& azimuths_deg);

}  // namespace swashwright::head
