// What a head may have besides servos, rings, hub and grips: things that turn about a pivot or slide along a line,
// balls fixed on a part, and balls by their names. Millimetres and degrees; frames: scenes/README.md, "Carrier's
// terms".
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/linkage/geometry.h"

namespace swashwright::head {

/// The part on which another one stands.
struct Carrier {
    enum class On { frame, inner_ring, outer_ring, hub, grip, lever, slider };
    On on = On::frame;
    int index = 0;  // of the grip, lever or slider, from 0

    bool operator==(const Carrier&) const = default;
};
/// "frame", "inner_ring", "grip[1]", "lever[2]": as a scene writes it.
std::string name_of(const Carrier& carrier);

/// One ball of the head, as a scene names it: "servo[1].ball", "inner_ball[1]", "lever[1].ball[2]", "fixed_ball[1]".
struct BallName {
    enum class Of { servo, inner_ball, outer_ball, grip, lever, slider, fixed_ball };
    Of of = Of::servo;
    int index = 0;  // from 0
    int ball = 0;   // which of a lever's or slider's, from 0

    bool operator==(const BallName&) const = default;
};
std::string name_of(const BallName& ball);

/// Something that turns about a pivot: bellcrank, mixing lever, wash-out arm, hinged link, stabiliser bar, rocking
/// spindle. `pivot_mm`, `axis` and `zero` are in the carrier's terms. Its own frame: origin at the pivot, z along
/// `axis`, x along `zero` turned by the angle about `axis` (right-handed), y = z cross x.
struct Lever {
    std::string name;
    Carrier on;
    int blade = 0;  // on hub and outer ring: whose terms, from 0
    Vec3 pivot_mm = Vec3::Zero();
    Vec3 axis = Vec3::UnitZ();
    Vec3 zero = Vec3::UnitX();                         // perpendicular to axis within 0.1 deg
    double angle_deg = 0;                              // the place nearest which neutral is sought
    std::vector<Vec3> balls_mm;                        // in its own frame
    std::vector<Vec3> studs;                           // one for each ball, or none: along its axis
    std::optional<std::array<double, 2>> by_hand_deg;  // not solved but set from outside, from least to most
    std::string reads;                                 // its angle is an output under this name; empty: it is none
};

/// Something that slides along a line: a wash-out base, a collective slider. Its frame: origin at `at_mm` + place along
/// `axis`, z along `axis`, x along `zero`.
struct Slider {
    std::string name;
    Carrier on;
    int blade = 0;
    Vec3 at_mm = Vec3::Zero();
    Vec3 axis = Vec3::UnitZ();
    Vec3 zero = Vec3::UnitX();
    double place_mm = 0;  // the place nearest which neutral is sought
    std::vector<Vec3> balls_mm;
};

struct FixedBall {
    Carrier on;
    int blade = 0;
    Vec3 at_mm = Vec3::Zero();  // in the carrier's terms
};

/// A ball joint without a link: two balls are one point.
struct Pin {
    std::string name;
    std::array<BallName, 2> ends;
};

}  // namespace swashwright::head
