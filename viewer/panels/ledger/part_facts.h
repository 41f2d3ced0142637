// What is told about a part beside it: its name and its main numbers.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "viewer/draw/base/part.h"

namespace swashwright::panels {

struct Fact {
    std::string what, value;
};

struct Facts {
    std::string name;
    std::vector<Fact> facts;
};

/// `ball`: of its ball with that number in the pose's list. `inches`: lengths are read so.
Facts facts_of(const draw::Part& part, std::optional<int> ball, const head::Description& description,
               const head::Pose& pose, bool inches);

}  // namespace swashwright::panels
