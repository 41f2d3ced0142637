// The sheet's standing words: what to do in which order, what must hold, what can hurt.
#pragma once

#include <string>
#include <vector>

#include "kinematics/head/description.h"

namespace swashwright::sheet {

std::vector<std::string> order_of_work(const head::Description& description);
std::vector<std::string> retention_checks(const head::Description& description);
std::vector<std::string> cautions();

}  // namespace swashwright::sheet
