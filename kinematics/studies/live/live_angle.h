// Where the angle lies that a live value is: between a lever and its link, at the ball where they meet.
#pragma once

#include <optional>
#include <string>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"

namespace swashwright::studies {

struct LiveAngle {
    Vec3 at;                // the ball, head frame, mm
    Vec3 to_link, to_axis;  // the link's other ball; a point towards the lever's axis
    bool folded = false;    // the value is at most 90 deg: of a larger angle it is what is left to 180 deg
};
/// Between the two ways, deg: the value.
double seen_deg(const LiveAngle& angle);

/// Of servo[j].horn_to_link_deg and grip[k].arm_to_link_deg, `value` being one of `live_value_names`; none of others,
/// and where the pose lacks it. The second is not the angle between link and arm but the link's to the plane of arm and
/// feathering axis, in which a push turns nothing: where the link leans along the axis, so does the way to the axis.
std::optional<LiveAngle> live_angle(const head::Description& description, const head::Pose& pose,
                                    const std::string& value);
/// A value of which `live_angle` knows where it lies.
bool is_angle(const std::string& value);

}  // namespace swashwright::studies
