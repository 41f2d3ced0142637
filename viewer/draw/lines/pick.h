// Which part lies under a pixel, by ray casting. GL-free.
#pragma once

#include <optional>
#include <vector>

#include "kinematics/head/references.h"
#include "viewer/draw/base/camera.h"
#include "viewer/draw/lines/strokes.h"

namespace swashwright::draw {

/// Where a ray meets a head first.
struct Hit {
    Part part;
    Frame frame;
    Vec3 at;                      // in the frame
    Vec3 normal = Vec3::UnitZ();  // outwards, likewise
};

/// `x`, `y`: pixels from the viewport's top left corner. None where the ray meets nothing; what
/// lies beyond `cut` is not there, but for the shaft.
std::optional<Hit> hit_at(const std::vector<Drawn>& drawn, const Frames& frames, const Camera& camera,
                          const Viewport& viewport, double x, double y, const std::optional<Plane>& cut = std::nullopt);
/// The part alone.
std::optional<Part> pick_part(const std::vector<Drawn>& drawn, const Frames& frames, const Camera& camera,
                              const Viewport& viewport, double x, double y,
                              const std::optional<Plane>& cut = std::nullopt);
/// The ball of `part` (a ring, horn, grip, lever or slider) under a pixel where that part is seen: its number in the
/// pose's list.
std::optional<int> ball_under(const Part& part, const head::Pose& pose, double ball_radius_mm, const Camera& camera,
                              const Viewport& viewport, double x, double y);

/// The ball whose middle is drawn nearest to a pixel, whatever lies over it; none farther away than `reach` pixels.
/// Of balls that are one point, the first in the order of `every_ball`.
std::optional<head::BallName> ball_near(const head::Description& description, const head::Pose& pose,
                                        const Camera& camera, const Viewport& viewport, double x, double y,
                                        double reach);

}  // namespace swashwright::draw
