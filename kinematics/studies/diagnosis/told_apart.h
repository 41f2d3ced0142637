// What the readings cannot tell from the most probable explanation. Internal to the diagnosis.
#pragma once

#include <vector>

#include "kinematics/studies/diagnosis/ranking.h"

namespace swashwright::studies {

/// `at_best`: every blade's rows of the head with the most probable faults in it, by all suspects.
std::vector<StandIn> find_stand_ins(Ranking& ranking, const Expected& at_best);

}  // namespace swashwright::studies
