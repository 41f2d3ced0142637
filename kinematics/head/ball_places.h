// Where parts and their balls stand in a pose, and which link holds a ball.
#pragma once

#include <optional>
#include <span>

#include "kinematics/head/head.h"

namespace swashwright::head {

/// Where a ball stands in a pose, head frame, mm, pointing into `skeleton`; null if the pose lacks it, as one of a
/// description that cannot be a head may.
const Vec3* ball_place(const Skeleton& skeleton, const BallName& ball);

/// Where a part stands, head frame, pointing into `skeleton`; the frame at the origin. Null if the pose lacks it, and
/// for links, blades and what has no place of its own.
const Placement* place_of(const Skeleton& skeleton, const PartName& part);
/// The balls that a part carries by its making, head frame, mm, in the order in which they are named; none of links.
std::span<const Vec3> balls_on(const Skeleton& skeleton, const PartName& part);

/// The other end of the first link that is held by this ball; none where no link is (a hinged link's pin, say).
std::optional<BallName> other_end(const Description& description, const BallName& ball);

inline BallName horn_ball(std::size_t servo) {
    return {BallName::Of::servo, static_cast<int>(servo)};
}
inline BallName arm_ball(std::size_t blade) {
    return {BallName::Of::grip, static_cast<int>(blade)};
}

}  // namespace swashwright::head
