// On which frames balls and link ends ride, and what goes round with the rotor: for drawings of any linkage.
// GL-free. Every index is checked: descriptions that cannot be heads are drawn too.
#pragma once

#include <algorithm>
#include <array>
#include <optional>

#include "kinematics/head/inventory.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {

/// Of a part that can carry something; the ground of any other.
Frame frame_of(const Part& part);
/// The lower and the upper end of the links of a kind.
std::array<Ride, 2> ends_ride_on(Role link);

/// What carries a ball, and its stud's direction there: unit, from foot to ball. None if the head has no such ball.
struct Seat {
    Frame frame;
    Vec3 stud;
};
std::optional<Seat> seat_of(const head::BallName& ball, const head::Description& description);
/// Of a lever's ball, in the lever's frame. Where the scene gives no studs all point to the side on which the balls
/// lie.
Vec3 lever_stud(const head::Lever& lever, std::size_t ball);

/// Where a part stands; null if the pose lacks it. Not for blades and links.
const Placement* place_of(const Frame& frame, const head::Skeleton& skeleton);

/// Does it turn with the rotor?
bool goes_round(const Frame& frame, const head::Description& description);
/// A lever that a scene reads and that lies across the shaft: a stabiliser bar.
bool is_bar(int lever, const head::Description& description);
/// Where its paddles end, from the middle, and how long they are along it, mm.
struct Paddles {
    double end, span, chord;
};
inline Paddles paddles_of(const Proportions& p) {
    return {0.92 * p.stub_end, std::min(0.8 * p.chord, 0.46 * p.stub_end), 0.55 * p.chord};
}
/// A frame's axes at neutral, rings level, in those of the hub if it turns with the rotor, else in the head's.
Mat3 level_turn(const Frame& frame, const head::Description& description);

}  // namespace swashwright::draw
