// The sheet's standing words: what to do in which order, what must hold, what can hurt. All common practice, no source.
#pragma once

#include <string>
#include <vector>

#include "kinematics/head/description.h"

namespace swashwright::sheet {

std::vector<std::string> order_of_work(const head::Description& description);
std::vector<std::string> retention_checks(const head::Description& description);
/// What to look at after a crash, in the order in which damage is found.
std::vector<std::string> after_crash(const head::Description& description);
/// `knower`: where they stand.
std::vector<std::string> cautions(const std::string& knower = "this sheet");
/// Stands over each list.
inline constexpr const char* whose_practice = "Common practice, no source; the maker's manual comes first.";

}  // namespace swashwright::sheet
