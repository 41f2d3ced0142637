// Which way the studs of the link balls point: unit vectors from foot to ball, in the frame of the part that carries
// them.
#pragma once

#include "kinematics/head/description.h"

namespace swashwright::head {

Vec3 horn_stud(const Description& description, std::size_t servo);       // in the horn's frame
Vec3 inner_ring_stud(const Description& description, std::size_t ball);  // in the inner ring's frame
Vec3 outer_ring_stud(const Description& description, std::size_t ball);  // in the outer ring's frame
Vec3 arm_stud(const Description& description, std::size_t blade);        // in the grip's frame

}  // namespace swashwright::head
