// Handles by which a part is dragged: where they stand, how each moves, and how far a pointer has taken one. GL-free;
// head frame, mm and deg.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "viewer/draw/base/camera.h"
#include "viewer/draw/base/part.h"
#include "viewer/draw/base/style.h"

namespace swashwright::draw {

struct Handle {
    enum class Of { pitch, tilt, height, horn, hand };
    Of of = Of::pitch;
    int index = 0;      // of the blade, servo or lever; of a tilt the azimuth of the rim, deg
    Vec3 at;            // head frame
    bool turns = true;  // about a line; else it slides along one
    Vec3 origin, way;   // a point of that line, and its direction, unit
    std::string words;  // "leading edge of blade 1"

    /// Where it stands once it has moved by so much: deg, or mm where it slides. Positive raises the leading edge, the
    /// rim or the ring, and turns a horn or lever in its own sense.
    Vec3 moved(double by) const;
    bool same(const Handle& other) const { return of == other.of && index == other.index; }
};

/// Those of a part in a pose: the leading edge at the end of a blade as drawn; of a ring four places on the rim and its
/// middle; the ball of a horn; the first ball of a lever that is moved by hand. None of other parts.
std::vector<Handle> handles_of(const Part& part, const head::Description& description, const head::Pose& pose,
                               const Style& style);
/// The handle drawn nearest to a pixel, none farther away than `reach` pixels. `x`, `y` as `Camera::project` gives
/// them.
std::optional<Handle> handle_near(const std::vector<Handle>& handles, const Camera& camera, const Viewport& viewport,
                                  double x, double y, double reach);
/// By how much (deg, mm) a handle has to move to be drawn as near as it can to a pixel, at most a quarter turn: beyond
/// all of its way at its end, however far the pointer is. Where its way is seen nearly end on, upwards in the picture
/// is more.
double dragged_to(const Handle& handle, const Camera& camera, const Viewport& viewport, double x, double y);

}  // namespace swashwright::draw
