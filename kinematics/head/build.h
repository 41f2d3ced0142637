// A head's description turned into bodies, joints and closures.
#pragma once

#include <array>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::head {

struct Assembly {
    linkage::Description linkage;
    Parts parts;
};

/// The linkage of a description that `check` has passed. Inputs: horn angles in servo order (rad), then the hub's angle
/// pi + s psi and those of levers moved by hand (`Parts::hub_input`, `Parts::hands`).
Assembly assemble(const Description& description);

/// Why a description cannot be a head: a wrong count, a number out of range. Empty if it can.
std::string check(const Description& description);

/// The hub's joint angle (rad) at rotor azimuth psi (deg).
double hub_angle(const Description& description, double azimuth_deg);
/// Azimuth (rad) at which the mixer takes a servo's inner ball to stand, with the phase.
double mixing_angle(const Description& description, std::size_t servo);
/// Share of a servo's command that each stick takes, in units of the mixing's gains.
StickGains mixing_weights(const Description& description, std::size_t servo);
/// Share of a command (deg, positive raises the ball) that a servo takes: `Servo::end_share`. At a command of 0, where
/// its travel has a kink, the mean of both ends, as central differences have it.
double end_share(const Servo& servo, double command_deg);
/// Does one link join the servo's horn ball to a ball of the inner ring?
bool linked_straight(const Description& description, std::size_t servo);
/// Smooth tilts (deg) of a ring with normal n: nose-down positive, right-down positive.
double tilt_forward_deg(const Vec3& n);
double tilt_right_deg(const Vec3& n);
/// Position angle (rad, from blade 1's, anticlockwise from above) of a place `ahead_deg` on a rotating part.
double ahead_angle(const Description& description, double ahead_deg);
/// A place on a ring in the ring's own frame, mm. On the outer ring angles run in the direction of rotation.
Vec3 inner_ring_point(const Polar& place);
Vec3 outer_ring_point(const Description& description, const Polar& place);
/// Output shaft, unit; and where the horn points at angle 0, unit and made exactly perpendicular to it.
Vec3 shaft_axis(const Servo& servo);
Vec3 horn_zero(const Servo& servo);
/// Rise of the horn ball per radian over the horn length, at an angle: -1 to 1.
double rise(const Servo& servo, double angle_deg);
/// +1 or -1: the sense of rotation that raises the horn ball, as given or as neutral and trim show it.
int raise_sign(const Servo& servo);
/// The three directions in which a carrier's terms count, as columns in the frame of the body that it is: lever_frame
/// and slider_frame write lengths along them. On hub and outer ring those of `blade` (from 0).
Mat3 carrier_axes(const Description& description, const Carrier& carrier, int blade);
/// Joint frames in the carrier's body's frame: z along the axis, x along zero.
Placement lever_frame(const Description& description, const Lever& lever);
Placement slider_frame(const Description& description, const Slider& slider);
/// Frame of the outgoing blade k (from 0) in the hub's frame: columns leading side, up, their cross product.
Placement grip_frame(const Description& description, int blade);

}  // namespace swashwright::head
