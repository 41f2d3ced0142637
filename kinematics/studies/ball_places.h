// Where a ball stands, and which link holds it: for studies that ask of one servo or blade what its link does.
#pragma once

#include <optional>

#include "kinematics/head/head.h"

namespace swashwright::studies {

/// The place of a ball in a pose, head frame, mm.
Vec3 ball_place(const head::Skeleton& skeleton, const head::BallName& ball);

/// The other end of the first link that is held by this ball; none where no link is (a hinged link's pin, say).
std::optional<head::BallName> other_end(const head::Description& description, const head::BallName& ball);

inline head::BallName horn_ball(std::size_t servo) {
    return {head::BallName::Of::servo, static_cast<int>(servo)};
}
inline head::BallName arm_ball(std::size_t blade) {
    return {head::BallName::Of::grip, static_cast<int>(blade)};
}

}  // namespace swashwright::studies
