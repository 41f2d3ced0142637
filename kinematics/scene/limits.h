// Keys that say what binding is checked against: studs, sizes of ball and socket, stops. Internal to kinematics/scene.
#pragma once

#include "kinematics/scene/reader.h"

namespace swashwright::scene {

/// A direction under an optional key; none if it is missing or after a mistake.
std::optional<Vec3> optional_direction(Keys& keys, const char* key, const char* form);
/// [least, most] under an optional key.
std::optional<std::array<double, 2>> optional_range(Keys& keys, const char* key, const Kind& kind);
/// One size for each end of a link: the end at the horn or at the outer ring first.
std::array<double, 2> read_ends(Keys& keys, const char* key, const Kind& kind, const std::array<double, 2>& otherwise);

void read_link_limits(Keys& keys, head::Link& link);
void read_ring_limits(Keys& keys, head::Swashplate& ring);

}  // namespace swashwright::scene
