// Distances between two places of a posed head: centres and axes are exact, as the pose has them; faces are as drawn,
// which is often an assumed size. GL-free; head frame, mm.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "viewer/draw/base/part.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {

/// Something on a head that stays on its part as the head moves.
struct Place {
    enum class At {
        ball,
        guide_pin,
        driver_pin,
        horn_pivot,
        lever_pivot,
        tilt_centre,
        hub_middle,
        blade_tip,
        shaft_axis,
        feathering_axis,
        horn_axis,
        lever_axis,
        face
    };
    At at = At::ball;
    head::BallName ball;
    int index = 0;  // of the pin, servo, lever or blade
    // A face: where it was clicked, and its outward normal, in the frame on which it rides.
    Part part;
    Frame frame;
    Vec3 point = Vec3::Zero(), normal = Vec3::UnitZ();

    bool operator==(const Place&) const = default;
};

struct Distance {
    Place from, to;

    bool operator==(const Distance&) const = default;
};

struct Measured {
    Vec3 a, b;  // the ends of the dimension
    double mm = 0;
    std::string how;     // "centre to centre"; "face to face, square to both"
    bool drawn = false;  // a face is part of it: the size is the drawing's
};

/// Of a pose; none if it lacks one of the places. Straight between centres; to an axis or a face square to it; between
/// axes where they come nearest; between two faces square to both where they are parallel within a degree, else
/// straight between the places that were clicked.
std::optional<Measured> measure(const Distance& distance, const head::Description& description, const head::Pose& pose);
/// Every place that has a name: centres first, then axes.
std::vector<Place> every_place(const head::Description& description);
/// "horn of servo left", "shaft axis", "face of the hub".
std::string words_of(const Place& place, const head::Description& description);
/// The part on which it is.
Part part_of(const Place& place, const head::Description& description);
/// Where the place can be pointed at in a picture; of an axis a point on it. None if the pose lacks it.
std::optional<Vec3> mark_of(const Place& place, const head::Description& description, const head::Pose& pose);

}  // namespace swashwright::draw
