// Does everything stay between its stops: servos, ring height and tilt, driver pins?
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "kinematics/studies/envelope/check.h"

namespace swashwright::studies {

/// Servo travel always; the rest where the description gives bounds.
std::unique_ptr<Checker> travel_checker(const head::Head& head);
/// A sentence for each bound that the description does not give.
std::vector<std::string> travel_not_checked(const head::Description& description);

}  // namespace swashwright::studies
