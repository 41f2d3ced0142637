// What the sheet says of the ring under a calliper and of the transmitter.
#pragma once

#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "viewer/sheet/content.h"

namespace swashwright::sheet {

/// Heights of a level ring, what turning the rotor shows, what 0.1 mm of a link does. Why there is no answer goes to
/// `missing` too.
Section ring_section(const head::Head& head, std::vector<std::string>& missing);
/// Mix, servos, travels in percent and degrees, and boxes to tick in the order of work.
Section transmitter_section(const head::Head& head, std::vector<std::string>& missing);

}  // namespace swashwright::sheet
