// What is written over the drawing: blade numbers and pitch, trouble in words, arrows, dimensions. Pure ImDrawList, so
// it works in the window and off-screen alike; needs a current ImGui context with a built font.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "viewer/draw/base/camera.h"
#include "viewer/draw/base/style.h"
#include "viewer/draw/lines/in_sight.h"
#include "viewer/draw/overlay/name_columns.h"

struct ImDrawList;

namespace swashwright::draw {

/// Words that belong to a part, made elsewhere.
struct PartNote {
    Part part;
    std::string words;
};

/// Where two parts come nearest: points on both, head frame, and the gap in words.
struct GapMark {
    Vec3 a, b;
    std::string words;
};

/// An angle at a point, head frame, between the ways to two others; `folded`: over 90 deg, what is left to 180 deg is
/// meant, between one way and the other one's way back.
struct AngleMark {
    Vec3 at, one, other;
    bool folded = false;
    std::string words;
};

/// A link's force, N, positive where it is pulled; the places of its balls, head frame.
struct ForceMark {
    Vec3 a, b;
    double newtons = 0;
    std::string words, name;  // "12.3 N pull", of "upper link 2"
};
struct MomentMark {
    Vec3 at;
    std::string words, name;
};
/// A distance that is kept on the picture; its ends, head frame.
struct DistanceMark {
    Vec3 a, b;
    std::string value, how;  // "1: 23.40 mm"; "centre to centre"
    bool touched = false;
};
struct LoadMarks {
    std::vector<ForceMark> forces;
    std::vector<MomentMark> moments;
};

struct OverlayWords {
    std::optional<GapMark> gap = {};
    LoadMarks loads = {};
    std::optional<AngleMark> angle = {};
    std::vector<DistanceMark> distances = {};

    std::vector<PartNote> trouble;                 // shown beside the part, with a mark
    std::string length_name = "centre to centre";  // which length the dimension of a touched link shows
    double length_less_mm = 0;                     // taken off the centre-to-centre length before it is shown
    /// A length of so many mm as it is to be read; millimetres where it is not set.
    std::function<std::string(double mm, int decimals)> length = {};
    bool pitch_labels = true;
    InSight in_sight = {};            // its spots are named in the margins
    std::vector<NameBox> taken = {};  // where the caller writes: names keep away
};

/// Draws over a picture made by `Drawing::render` with the same arguments, in ImGui's current font. `scale`, 1 = 100 %,
/// is for line widths and gaps. That pitch differences are exaggerated is for the caller to say, beside its other
/// notes.
void draw_overlay(ImDrawList& list, const head::Description& description, const head::Pose& pose, const Camera& camera,
                  const Style& style, const Viewport& viewport, const OverlayWords& words, float scale);

}  // namespace swashwright::draw
