// The sheet's standing words: what to do in which order, what must hold, what can hurt.
#pragma once

#include <string>
#include <vector>

namespace swashwright::sheet {

std::vector<std::string> order_of_work();
std::vector<std::string> retention_checks();
std::vector<std::string> cautions();

}  // namespace swashwright::sheet
