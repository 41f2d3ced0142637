// How far is a head off what its builder wishes, at worst?
#pragma once

#include <string>
#include <vector>

#include "kinematics/studies/lengths/link_wishes.h"

namespace swashwright::studies {

/// Of one wish: the farthest that it is missed anywhere, deg (mm for height and misfit), and where.
struct WishMiss {
    WishKind kind = WishKind::pitch;
    double most = 0;
    std::string at;  // "blade 2, rotor at 300 deg"
};

/// One for each wish, in the order of `wish_rows`. Pitch is sought all round the turn, between samples too; means are
/// over the whole turn; the ring's tilt is the angle between its normal and the shaft. Fails where the head cannot be
/// posed somewhere in the turn.
head::Result<std::vector<WishMiss>> wish_misses(const head::Description& description, const Wishes& wishes);

}  // namespace swashwright::studies
