// How well do links push on their levers, and how far is each part of the linkage from a dead point?
#pragma once

#include <memory>

#include "kinematics/studies/envelope/check.h"

namespace swashwright::studies {

/// Transmission angle mu folded to 0..90 deg, of a lever whose ball can move along `free` (any length) and whose link
/// lies along `link`: sin(mu) is the share of the link's force that turns the lever. In a plane this is the textbook
/// angle between coupler and lever (Alt 1932; Balli and Chand, Mechanism and Machine Theory 37, 2002), folded at 90.
double transmission_angle_deg(const Vec3& link, const Vec3& free);

/// Of every link to each horn, pitch arm and lever that carries an end of it; 40 deg (to 140) is the least that is
/// usually recommended (Norton, Design of Machinery, from memory).
std::unique_ptr<Checker> crank_checker(const head::Head& head);
/// Of every block of the linkage, the smallest singular value of its Jacobian, mm for each mm with rotations counted
/// at the block's mean ball radius; 0 at a dead point. Bound: 0.1, where an error grows tenfold.
std::unique_ptr<Checker> dead_point_checker(const head::Head& head);

}  // namespace swashwright::studies
