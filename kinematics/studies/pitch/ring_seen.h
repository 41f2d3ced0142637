// Heights that were read at a ring, against the head.
#pragma once

#include "kinematics/studies/pitch/ring.h"

namespace swashwright::studies {

/// Of which servo's link an inner ball is: "inner ball 1 (servo left)".
std::string inner_ball_words(const head::Description& description, std::size_t ball);
/// Diameter of an inner ball: that of the link which ends on it; the usual one where none does.
double inner_ball_mm(const head::Head& head, std::size_t ball);
/// The same of an outer ball.
double outer_ball_mm(const head::Head& head, std::size_t ball);
/// A level ring at the scene's neutral height, by its lower links; fails where they do not rule it.
head::Result<head::Head> levelled(const head::Head& head, double lean_forward_deg = 0);
/// Rotor azimuth at which outer ball 1 stands over an inner ball, deg, from 0 to below 360.
double azimuth_over_deg(const head::Description& description, std::size_t inner_ball);

/// Fits the lower links to the heights and turns them for a level ring at the scene's height. Fails where the heights
/// are too few or cannot be this ring's.
head::Result<SeenRing> seen_ring(const head::Head& head, const RingRequest& request);

}  // namespace swashwright::studies
