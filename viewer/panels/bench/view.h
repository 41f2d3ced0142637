// How the head is looked at: from where, and what of it is drawn.
#pragma once

#include <optional>
#include <vector>

#include "viewer/draw/base/camera.h"
#include "viewer/draw/lines/distance.h"
#include "viewer/draw/picture/picture.h"
#include "viewer/panels/base/screen.h"

namespace swashwright::panels {

/// A camera on its way.
struct CameraMove {
    draw::Camera from, to;
    double seconds = 0;  // gone by; a move takes `camera_seconds`
};
inline constexpr double camera_seconds = 0.25;

/// What the camera was sent to frame.
struct Framed {
    draw::Camera camera;
    double aspect = 1;
    bool turning = false, paths = false, as_meant = false;

    bool operator==(const Framed&) const = default;
};

/// How the head is flown while its forces are shown; what is not given is the scene's, or worked out.
struct FlownAs {
    std::optional<double> head_speed_rpm, coning_deg;

    bool operator==(const FlownAs&) const = default;
};

enum class Fit { none, moving, at_once, chosen };  // the last: the chosen part fills the picture

struct View {
    draw::Camera camera;
    std::optional<CameraMove> move;
    double exaggeration = 1;  // 1 to 20
    bool whole_blades = false;
    bool paths = false;              // of balls and blade tips over a turn
    bool as_meant = false;           // the head without its errors, as outlines
    double frame_seconds = 0;        // while something moves, smoothed
    bool flat_hollows = false;       // frames came too slowly: until all stands still, hollows go without their shade
    bool cut = false;                // open through the shaft, towards the viewer
    bool names = false;              // of every part in sight, in the margins
    std::optional<FlownAs> forces;   // in links and at horns, while the question about them is open
    std::vector<draw::Part> hidden;  // in order, each once
    std::vector<draw::Distance> distances;  // kept on the picture
    Fit fit = Fit::at_once;                 // asked for; done as soon as the picture's size is known
    std::optional<Framed> framed;
    std::optional<draw::View> view_wanted;
};

/// At once, or over a quarter of a second where the settings say so.
void move_camera(const Screen& screen, View& view, const draw::Camera& to);
/// Moves a camera that is on its way.
void advance(View& view, double seconds);
/// Parts are hidden and measured by their numbers, which are others' once one before them is gone: hidden parts of a
/// list that has become shorter are shown again, and distances go. `put_back`: of one that has become longer, too,
/// since what an undo puts back does not stand last.
void forget_renumbered(View& view, const head::Description& before, const head::Description& after, bool put_back);
/// Motion wants 30 frames a second; `seconds` since the last frame.
void mind_the_pace(View& view, bool moves, double seconds);

}  // namespace swashwright::panels
