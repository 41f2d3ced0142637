// A plain rotor head as a builder measures it: what a scene file holds and what `Head` is built from.
// Millimetres and degrees, because people read and write these numbers. Frames and signs: DEVELOPERS.md.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "kinematics/linkage/geometry.h"

namespace swashwright::head {

enum class Direction { anticlockwise, clockwise };  // of the rotor, seen from above

struct Rotor {
    int blades = 2;
    Direction direction = Direction::clockwise;
    double hub_height_mm = 0;  // where the feathering axes cross the shaft, above the head frame's origin
    double precone_deg = 0;    // feathering axes raised towards the tip
    double blade_tip_mm = 0;   // shaft axis to blade tip
    double head_speed_rpm = 0;
};

/// A place by radius, angle and height: on the inner ring (angle = azimuth from the nose, positive
/// anticlockwise from above), on the outer ring (angle = ahead of blade 1, positive in the direction of
/// rotation), or in the head frame (azimuth). Ring heights are along the ring's normal from its tilt centre.
struct Polar {
    double radius_mm = 0;
    double angle_deg = 0;
    double height_mm = 0;

    bool operator==(const Polar&) const = default;
};

/// A servo pivot in the head frame, kept in the form in which it was written.
using Pivot = std::variant<Vec3, Polar>;

struct Servo {
    std::string name;
    Pivot pivot_mm = Vec3(0, 0, 0);
    Vec3 axis = Vec3::UnitY();       // output shaft direction; need not be a unit vector
    Vec3 horn_zero = Vec3::UnitX();  // where the horn points at angle 0; perpendicular to axis within 0.1 deg
    double horn_mm = 0;
    double neutral_deg = 0;
    double trim_deg = 0;                        // added to neutral
    std::array<double, 2> travel_deg{-45, 45};  // about neutral, in the horn angle's own sense
    std::optional<int> raise;  // +1 or -1: the sense of rotation that raises the horn ball; deduced if absent
    std::optional<double> collective_weight;  // in place of 1
    std::optional<double> aileron_weight;     // in place of sin(azimuth + phase)
    std::optional<double> elevator_weight;    // in place of -cos(azimuth + phase)

    // The servo as a thing that is driven and set; no pose depends on these. Defaults: common practice, no source.
    double pulse_centre_us = 1500;  // at neutral
    double pulse_deg_per_us =
        0.1;                // horn angle, in its own sense, for each microsecond; negative if it turns the other way
    int spline_teeth = 25;  // steps in which the horn can be set on the output shaft
    std::vector<double> horn_holes_mm;  // lengths that the horn's holes offer; empty: only the present one
};

struct Swashplate {
    double neutral_height_mm = 0;    // nominal height of the tilt centre; the solver starts here
    std::vector<Polar> inner_balls;  // one for each servo
    Polar guide_pin;
    double guide_turn_deg = 0;         // a guide that is bent or turned, positive anticlockwise from above
    std::vector<Polar> outer_balls;    // one for each blade
    std::vector<Polar> driver_pins;    // one or more
    bool driver_pins_as_list = false;  // written as `driver_pins` rather than `driver_pin`
    double driver_turn_deg = 0;        // a driver collar that has slipped, positive in the direction of rotation
};

/// From which sides a link's ball end presses onto its ball: how finely turns of the end can set the length.
enum class EndFaces { either, one_side };

/// What is between the ends: a plain threaded rod, or a turnbuckle body with left-hand and right-hand thread.
enum class Rod { plain, turnbuckle };

struct Link {
    double length_mm = 0;  // ball centre to ball centre
    double error_mm = 0;   // how far the real link is off; the solver uses the sum
    EndFaces end_faces = EndFaces::either;

    // How the link is made: what a calliper reads and what can be set. Defaults: common practice, no source, but the
    // thread (ISO 261 coarse, M2).
    Rod rod = Rod::plain;
    double thread_pitch_mm = 0.40;
    std::array<double, 2> boss_mm{6.0, 6.0};          // diameter of the boss at each end
    std::array<double, 2> end_length_mm{11.0, 11.0};  // ball centre to the end of the socket's shank
    double play_mm = 0.02;                            // radial, in each ball link

    double actual_mm() const { return length_mm + error_mm; }
};

struct PitchArm {
    double along_mm = 0;  // out along the feathering axis
    double lead_mm = 0;   // in the direction of rotation
    double up_mm = 0;
};

struct Grip {
    PitchArm pitch_arm;
    double pitch_offset_deg = 0;  // blade pitch = grip angle + this
};

/// A blade as the flap balance needs it. What is not given is taken as stated; defaults: common practice, no source.
struct Blade {
    std::optional<double> chord_mm;  // default: a twelfth of blade_tip_mm
    std::optional<double> mass_g;   // default: 4.8 kg/m^2 of blade area at 55 mm chord, in proportion to chord; a guess
    std::optional<double> bolt_mm;  // shaft axis to blade bolt; default: a tenth of blade_tip_mm
    double flap_hinge_mm = 0;       // shaft axis to the flap hinge, or to where the spindle rocks
    double flap_stiffness_nm = 0;   // dampers' moment for each radian of flap, N m
};

struct Mixing {
    double collective_deg = 0;  // horn travel at full collective
    double cyclic_deg = 0;      // horn travel at full cyclic, at a ball straight in line with the stick
    double phase_deg = 0;       // positive turns the ring's tilt clockwise seen from above
};

struct Description {
    std::string name;
    Rotor rotor;
    std::vector<Servo> servos;  // one for each lower link, same order
    Swashplate swashplate;
    std::vector<Link> lower_links;
    std::vector<Link> upper_links;  // one for each blade
    std::vector<Grip> grips;        // one for each blade
    Blade blade;                    // all blades are taken to be alike
    Mixing mixing;
};

/// +1 for a rotor that turns anticlockwise seen from above, -1 for clockwise.
inline double spin_sign(Direction d) {
    return d == Direction::anticlockwise ? 1.0 : -1.0;
}

/// A pivot as a point of the head frame, mm.
Vec3 pivot_point(const Pivot& pivot);

}  // namespace swashwright::head
