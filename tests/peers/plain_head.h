// A plain head as bare numbers, and what an outside solver says of it. C++17, so that libraries whose headers do not
// compile as C++20 can be given heads too.
#pragma once

#include <array>
#include <vector>

namespace swashwright::head {
struct Description;
}

namespace swashwright::peers {

using Point = std::array<double, 3>;  // mm

struct PlainHead {
    struct Horn {
        Point pivot, zero, quarter;  // head frame; the ball stands at pivot + cos(a) zero + sin(a) quarter
        double neutral_deg = 0;      // trim included
    };
    struct Grip {
        double azimuth = 0;                  // rad, anticlockwise from above, from blade 1
        double along = 0, lead = 0, up = 0;  // mm
        double offset_deg = 0;
    };

    double spin = 1;                                      // +1 anticlockwise, -1 clockwise, from above
    double hub_height = 0, precone = 0, ring_height = 0;  // mm, rad
    std::vector<Horn> horns;
    std::vector<Point> inner_balls;  // inner ring's frame: x towards azimuth 0
    std::vector<double> lower_lengths;
    Point guide_pin{};               // inner ring's frame
    double guide_plane = 0;          // azimuth of the guide's plane, rad
    std::vector<Point> outer_balls;  // outer ring's frame: x towards ahead 0, z along the normal
    std::vector<double> upper_lengths;
    Point driver_pin{};       // outer ring's frame
    double driver_plane = 0;  // of the driver's plane from blade 1, rad, anticlockwise
    std::vector<Grip> grips;

    /// Rotor position angle (rad, from the nose, anticlockwise) of blade 1 at an azimuth in deg.
    double blade_angle(double azimuth_deg) const;
    /// Where a horn's ball stands, head frame.
    Point horn_ball(int index, double horn_deg) const;
};

/// From a description with three servos and one driver pin.
PlainHead plain_head(const head::Description& description);

/// What an outside solver says of a head at one pose.
struct PeerPose {
    double height_mm = 0;
    double tilt_forward_deg = 0;  // nose-down positive
    double tilt_right_deg = 0;    // right-down positive
    std::vector<double> pitch_deg;
};

/// What an outside solver says that it takes to hold a head still.
struct PeerLoads {
    std::vector<double> lower_n, upper_n;  // of links, positive where pulled
    std::vector<double> horn_nmm;          // moment of each servo on its horn, in the horn angle's own sense
};

}  // namespace swashwright::peers
