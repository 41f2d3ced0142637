// Where the angle lies that a live value is: between a lever and its link, at the ball where they meet.
#pragma once

#include <optional>
#include <string>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"

namespace swashwright::studies {

struct LiveAngle {
    Vec3 at;                // the ball, head frame, mm
    Vec3 to_link, to_axis;  // the link's other ball; the lever's axis, at its nearest to the ball
    bool folded = false;    // the value is at most 90 deg: of a larger angle it is what is left to 180 deg
};

/// Of servo[j].horn_to_link_deg and grip[k].arm_to_link_deg, `value` being one of `live_value_names`; none of others,
/// and where the pose lacks it. The second is measured in the plane in which the arm's ball moves, so that with a link
/// that leans out of that plane it is less than the angle seen.
std::optional<LiveAngle> live_angle(const head::Description& description, const head::Pose& pose,
                                    const std::string& value);
/// A value of which `live_angle` knows where it lies.
bool is_angle(const std::string& value);

}  // namespace swashwright::studies
