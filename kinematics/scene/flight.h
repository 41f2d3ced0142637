// Keys that decide the forces in flight: [blade], [flight], a servo's rating, weights on a grip. Internal to
// kinematics/scene.
#pragma once

#include "kinematics/scene/reader.h"

namespace swashwright::scene {

head::Blade read_blade(Keys& keys);
head::Flight read_flight(Keys& keys);
/// Of a servo's own keys those that rate it.
head::ServoRating read_rating(Keys& keys);
/// `weights` of a grip.
std::vector<head::BalanceWeight> read_weights(Keys& keys);

}  // namespace swashwright::scene
