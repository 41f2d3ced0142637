// A rotor head or tail as a builder measures it: what a scene file holds and what `Head` is built from.
// Millimetres and degrees, because people read and write these numbers. Frames and signs: DEVELOPERS.md.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "kinematics/head/flight.h"
#include "kinematics/head/levers.h"
#include "kinematics/linkage/geometry.h"

namespace swashwright::head {

/// A tail's head frame stands on the tail shaft: z out along it, towards the blades, x to the nose.
enum class Kind { main, tail };

enum class Direction { anticlockwise, clockwise };  // of the rotor, seen from above

inline constexpr std::size_t most_servos = 6;

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
    /// Azimuth of the inner ball that the mixer was set up with; absent: that of the ball. Not in scenes: studies that
    /// move metal fill it in, see `mixer_kept`.
    std::optional<double> mixer_azimuth_deg = {};
    /// Share of a negative and of a positive command that the servo takes: unequal end points. Not in scenes, where
    /// both are 1: a fault that a diagnosis puts in.
    std::array<double, 2> end_share{1, 1};
    std::optional<double> collective_weight;  // in place of 1
    std::optional<double> aileron_weight;     // in place of sin(azimuth + phase)
    std::optional<double> elevator_weight;    // in place of -cos(azimuth + phase)

    // The servo as a thing that is driven and set; no pose depends on these. Defaults: common practice, no source.
    double pulse_centre_us = 1500;  // at neutral
    double pulse_deg_per_us =
        0.1;                // horn angle, in its own sense, for each microsecond; negative if it turns the other way
    int spline_teeth = 25;  // steps in which the horn can be set on the output shaft
    std::vector<double> horn_holes_mm;  // lengths that the horn's holes offer; empty: only the present one

    /// Which way the horn ball's stud points, from its foot to the ball: along the horn, across it, along the output
    /// shaft. Default: along the output shaft (common practice, no source).
    Vec3 stud = Vec3::UnitZ();
    ServoRating rating = {};
};

struct Swashplate {
    double neutral_height_mm = 0;    // nominal height of the tilt centre; the solver starts here
    bool tilts = true;               // false: a pitch slider, which neither tilts nor turns and needs no guide
    std::vector<Polar> inner_balls;  // on a plain head one for each servo
    bool guided = true;              // by `guide_pin`; without, something else must hold the ring from turning
    Polar guide_pin;
    double guide_turn_deg = 0;         // a guide that is bent or turned, positive anticlockwise from above
    std::vector<Polar> outer_balls;    // on a plain head one for each blade
    std::vector<Polar> driver_pins;    // none where something else turns the outer ring
    bool driver_pins_as_list = false;  // written as `driver_pins` rather than `driver_pin`
    double driver_turn_deg = 0;        // a driver collar that has slipped, positive in the direction of rotation

    // What binding is checked against. Studs point away from the tilt centre, along turning, along the ring's normal;
    // one for all balls of a ring. Default: straight out (common practice, no source).
    Vec3 inner_stud = Vec3::UnitX(), outer_stud = Vec3::UnitX();
    std::optional<std::array<double, 2>> height_stops_mm;  // the tilt centre's lowest and highest place on the shaft
    std::optional<double> tilt_limit_deg;                  // of the ring on its ball or bearing
    std::optional<std::array<double, 2>>
        driver_reach_mm;                  // least and most distance of a driver pin from the shaft axis
    std::optional<double> lower_face_mm;  // of the inner ring, along its normal from the tilt centre; below is negative
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

    // How far an end can tilt on its ball before the socket's rim meets the stud's neck. Defaults: common practice, no
    // source. First the lower end (horn, or outer ring), then the upper end (inner ring, or grip).
    std::array<double, 2> ball_mm{4.8, 4.8};                   // diameter of the ball
    std::array<double, 2> socket_mm{3.0, 3.0};                 // width of the socket at the ball
    std::array<double, 2> neck_mm{2.5, 2.5};                   // diameter of the stud's neck
    std::optional<std::array<double, 2>> tilt_limit_deg = {};  // in place of what these three give
    double end_twist_deg = 0;  // from the lower end's socket to the upper end's, right-handed along the link upwards
    double rod_mm = 2.0;       // diameter of the rod between the bosses
    std::optional<double> rod_length_mm = {};  // of the threaded rod or turnbuckle, end to end; absent: not cut yet

    std::string name = {};  // empty: "lower link 1"
    /// Left out: on a lower link j horn ball j and inner ball j, on an upper link k outer ball k and grip ball k.
    std::optional<std::array<BallName, 2>> ends = {};

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
    /// The lever (from 0) with which it moves: at that lever's angle 0 it stands where it would stand on the hub.
    std::optional<int> lever = {};
    /// Which way the arm ball's stud points: out along the feathering axis, leading, up. Default: leading, as the arm
    /// (common practice, no source); a trailing arm's points the other way.
    std::optional<Vec3> stud = {};
    std::vector<BalanceWeight> weights = {};
};

/// A blade as the flap balance and the loads need it. What is not given is taken as stated; defaults: common practice,
/// no source.
struct Blade {
    std::optional<double> chord_mm;  // default: a twelfth of blade_tip_mm
    std::optional<double> mass_g;   // default: 4.8 kg/m^2 of blade area at 55 mm chord, in proportion to chord; a guess
    std::optional<double> bolt_mm;  // shaft axis to blade bolt; default: a tenth of blade_tip_mm
    double flap_hinge_mm = 0;       // shaft axis to the flap hinge, or to where the spindle rocks
    double flap_stiffness_nm = 0;   // dampers' moment for each radian of flap, N m

    // What turns it about the feathering axis. Ahead is positive in the direction of rotation, blade flat.
    std::optional<double> thickness_mm = {};   // of the section; default: 0.12 of the chord
    std::optional<double> mass_along_mm = {};  // shaft axis to its mass centre; default: midway from bolt to tip
    std::optional<double> bolt_ahead_mm = {};  // blade bolt ahead of the feathering axis; default: on it
    /// Mass centre ahead of the feathering axis. Default: where a blade that swings on its bolt comes to stand, in line
    /// with the bolt as seen from the shaft.
    std::optional<double> mass_ahead_mm = {};
    std::optional<double> mass_spread_mm = {};  // its radius of gyration along the chord; default: an even plate's
    std::optional<double> edge_ahead_mm = {};  // leading edge; default: a quarter of the chord ahead of the mass centre
    std::optional<double> moment_coefficient = {};  // of the section about its quarter chord, nose up positive
    std::optional<double> profile_drag = {};        // drag coefficient of the section at no lift
    std::optional<double> lift_slope_per_rad = {};
};

/// A surface of triangles, mm: corners by their number in `points`.
struct Triangles {
    std::vector<Vec3> points;
    std::vector<std::array<int, 3>> faces;
};

/// A simple shape fixed to a part, in the part's own frame, mm: what else may touch.
struct Solid {
    enum class Shape { capsule, cylinder, box, ring, mesh };
    /// "frame" (the head frame), "servo[1]" (its horn: x along the horn, z along the output shaft), "inner_ring",
    /// "outer_ring" (origin at the tilt centre, z along the normal), "hub" (origin on the shaft at height 0, x under
    /// blade 1) or "grip[2]" (origin at the hub's centre; x leading, y up, z along the feathering axis).
    std::string part;
    Shape shape = Shape::capsule;
    Vec3 at = Vec3::Zero();       // capsule, cylinder: one end of the axis; box, ring: centre; mesh: its file's origin
    Vec3 to = Vec3::Zero();       // capsule, cylinder: the other end of the axis
    Vec3 size_mm = Vec3::Zero();  // box: its edges
    double diameter_mm = 0;       // capsule, cylinder; ring: of its middle line, about z
    double section_mm = 0;        // ring: diameter of its section
    std::string file;             // mesh: an STL file as written, relative to the scene
    std::shared_ptr<const Triangles> mesh = {};  // what the file holds
};

/// A face square to the shaft that a calliper reaches: heights are read from it.
struct Face {
    std::string name = "top of the bearing block";
    double height_mm = 0;  // above the head frame's origin
};

/// What the transmitter lets through of aileron and elevator together: a stick goes round in a circle, or into square
/// corners where both are full.
enum class CyclicStick { circle, square };

struct Mixing {
    double collective_deg = 0;  // horn travel at full collective
    double cyclic_deg = 0;      // horn travel at full cyclic, at a ball straight in line with the stick
    double phase_deg = 0;       // positive turns the ring's tilt clockwise seen from above
    CyclicStick cyclic_stick = CyclicStick::circle;
    double combined_limit = 2;  // of |collective| and how far out the cyclic stick is: no more is let through
    double rudder_deg = 0;      // a tail's: horn travel at full rudder, in place of all above
};

struct Description {
    std::string name;
    Kind kind = Kind::main;
    Rotor rotor;
    std::vector<Servo> servos;  // on a plain head one for each lower link, same order
    Swashplate swashplate;
    std::vector<Link> lower_links;
    std::vector<Link> upper_links;  // on a plain head one for each blade
    std::vector<Grip> grips;        // one for each blade
    Blade blade;                    // all blades are taken to be alike
    Flight flight;
    Mixing mixing;
    std::vector<Lever> levers;
    std::vector<Slider> sliders;
    std::vector<FixedBall> fixed_balls;
    std::vector<Link> links;  // any other link; its ends are given
    std::vector<Pin> pins;
    std::vector<Solid> solids;  // beyond those made from the numbers above
    std::optional<Face> measured_from;
    double clearance_mm = 0.5;  // wanted between parts that are not joined; default: common practice, no source
};

/// +1 for a rotor that turns anticlockwise seen from above, -1 for clockwise.
inline double spin_sign(Direction d) {
    return d == Direction::anticlockwise ? 1.0 : -1.0;
}

/// "servo left"; "servo 1" of one that is called so already.
std::string servo_words(const Servo& servo);

/// A pivot as a point of the head frame, mm.
Vec3 pivot_point(const Pivot& pivot);

/// The scene format that can write it: 2 if it has anything that format 1 has no words for.
int format_of(const Description& description);

}  // namespace swashwright::head
