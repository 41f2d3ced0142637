// The head as a glTF 2.0 model (ISO/IEC 12113:2022): the solids of the drawing, where they stand, and how they move.
//
// glTF is in metres, right-handed, y up, and its models face +z (section 3.4), so that +x is their left. A root node
// turns the head frame into that: x (nose) -> z, y (left) -> x, z (up) -> y. Below the root everything is in the head
// frame's axes, a thousandth of its millimetres; meshes are in the frame of the body that they ride on.
#pragma once

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"

namespace swashwright::model {

enum class Form { binary, text };  // .glb; .gltf, everything in the one file

/// Where the head stands at one rotor azimuth.
struct Moment {
    double azimuth_deg = 0;
    head::Pose pose;
};

struct Order {
    Form form = Form::binary;
    bool whole_blades = false;           // to their tips, not only stubs
    std::string note;                    // of the scene: whether it is invented
    std::optional<head::Sticks> sticks;  // written down with the pose; none if horn angles were given
    double seconds = 10;                 // of a turn
};

/// One moment: the head stands as it does there. Several, evenly spread over one turn: an animation that goes through
/// them and ends where it began. Links and blades are nodes of their own, named as parts are; what a part has on a
/// second body is named after both. Fails with a sentence.
tl::expected<std::string, std::string> gltf(const head::Description& description, const std::vector<Moment>& moments,
                                            const Order& order);

}  // namespace swashwright::model
