// [[solid]] tables: shapes for clearance. Internal to kinematics/scene.
#pragma once

#include "kinematics/scene/reader.h"

namespace swashwright::scene {

/// A solid on a part of `head`, whose levers and sliders have been read. A mesh's file is named, not yet read; `place`
/// tells where.
head::Solid read_solid(Keys& keys, const head::Description& head, std::size_t blades, Place& place);

}  // namespace swashwright::scene
