// [[servo]], and places by radius, angle and height. Internal to kinematics/scene.
#pragma once

#include "kinematics/scene/reader.h"

namespace swashwright::scene {

inline constexpr Kind radius{"a radius in mm", 0.01, 10000};
inline constexpr auto on_inner_ring = "{ radius_mm, azimuth_deg, height_mm }";  // how the table is written

head::Polar read_polar(Keys keys, const char* angle_key, const Kind& radius_kind = radius);

head::Servo read_servo(Keys& keys);
/// The rules that tie a servo's directions together; only asked where each of them reads well by itself.
/// `straight`: it drives the ring by one straight link, so its own ball's rise tells its sense.
void check_directions(const head::Servo& servo, bool straight, Keys& keys);
/// A servo whose number no inner ball has must say what the sticks do to it.
void check_weights(const head::Description& head, std::size_t servo, Keys& keys);

}  // namespace swashwright::scene
