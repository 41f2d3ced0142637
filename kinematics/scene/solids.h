// [[solid]] tables: shapes for clearance. Internal to kinematics/scene.
#pragma once

#include "kinematics/scene/reader.h"

namespace swashwright::scene {

/// A mesh's file is named, not yet read; `place` tells where.
head::Solid read_solid(Keys& keys, std::size_t servos, std::size_t blades, Place& place);

}  // namespace swashwright::scene
