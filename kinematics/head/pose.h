// What a head does at one stick position and rotor azimuth. Results are values; nothing here computes.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/part.h"
#include "kinematics/linkage/geometry.h"

namespace swashwright::head {

/// Stick positions, each in [-1, 1]: collective up, aileron right, elevator forward (nose down), rudder right positive.
/// A tail reads the rudder only, a main rotor the other three.
struct Sticks {
    double collective = 0;
    double aileron = 0;
    double elevator = 0;
    double rudder = 0;

    bool operator==(const Sticks&) const = default;
};

/// Where every moving part stands, head frame, mm. Enough to draw the head from its description.
struct Skeleton {
    std::vector<Placement> horns;  // origin at the pivot, z along the output shaft, x along the horn
    Placement inner_ring;          // origin at the tilt centre, z along the normal, x towards azimuth 0
    Placement outer_ring;          // origin at the tilt centre, z along the normal, x towards ahead 0
    Placement hub;                 // origin on the shaft at height 0, x under blade 1's feathering axis
    std::vector<Placement> grips;  // origin at the hub centre; x the leading side, y up at zero pitch, z along
                                   // the feathering axis: outwards if anticlockwise, inwards if clockwise
    std::vector<Placement> levers, sliders;     // frames: head/levers.h
    std::vector<Vec3> horn_balls, inner_balls;  // the ends of each lower link
    std::vector<Vec3> outer_balls, grip_balls;  // the ends of each upper link
    std::vector<std::vector<Vec3>> lever_balls, slider_balls;
    std::vector<Vec3> fixed_balls;
    Vec3 guide_pin = Vec3::Zero();
    std::vector<Vec3> driver_pins;
};

struct Pose {
    std::vector<double> horn_deg;          // neutral + trim + command, or as given
    double height_mm = 0;                  // tilt centre above the head frame's origin
    double tilt_deg = 0;                   // of the ring's normal from the shaft
    double lowest_azimuth_deg = 0;         // in (-180, 180]; 0 where the tilt is under 1e-9 deg
    double tilt_forward_deg = 0;           // nose-down positive, smooth through level
    double tilt_right_deg = 0;             // right-down positive, smooth through level
    std::vector<double> pitch_deg;         // of each blade, leading edge up positive
    double residual_mm = 0;                // largest closure error of the loops that must close
    std::vector<double> lever_deg;         // of each lever, in (-180, 180]
    std::vector<double> slider_mm;         // place of each slider along its axis
    std::optional<double> misfit_mm;       // where links or pins are too many: the largest length error or gap left
    std::vector<double> driver_misfit_mm;  // with more than one driver pin: how far each stands off its plane
    Skeleton skeleton;
};

/// A link that cannot span its two balls.
struct Shortfall {
    std::optional<PartName> part;  // the link; none where it is something else that does not close
    double missing_mm = 0;  // least change of length that closes the loop: positive = too short, negative = too long
    std::string sentence;   // "upper link 2 is 1.30 mm too short to reach"
};

/// The loop does not close, or the description cannot be a head.
struct Failure {
    std::string message;                // one sentence a builder understands
    std::vector<Shortfall> shortfalls;  // empty where nothing is out of reach
};

}  // namespace swashwright::head
