// Where a ball stands, and which link holds it.
#pragma once

#include <optional>

#include "kinematics/head/head.h"

namespace swashwright::head {

/// Where a ball stands in a pose, head frame, mm, pointing into `skeleton`; null if the pose lacks it, as one of a
/// description that cannot be a head may.
const Vec3* ball_place(const Skeleton& skeleton, const BallName& ball);

/// The other end of the first link that is held by this ball; none where no link is (a hinged link's pin, say).
std::optional<BallName> other_end(const Description& description, const BallName& ball);

inline BallName horn_ball(std::size_t servo) {
    return {BallName::Of::servo, static_cast<int>(servo)};
}
inline BallName arm_ball(std::size_t blade) {
    return {BallName::Of::grip, static_cast<int>(blade)};
}

}  // namespace swashwright::head
