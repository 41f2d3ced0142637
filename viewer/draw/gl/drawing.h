// The head as a shaded technical drawing: the description gives the shapes, a pose puts them in place.
// Needs a current OpenGL 3.3 core context; touches only the framebuffer that is bound.
#pragma once

#include <memory>
#include <optional>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "viewer/draw/base/camera.h"
#include "viewer/draw/base/part.h"
#include "viewer/draw/base/style.h"

namespace swashwright::draw {

struct Hit;
struct InSight;

class Drawing {
public:
    Drawing();
    ~Drawing();
    Drawing(Drawing&&) noexcept;
    Drawing& operator=(Drawing&&) noexcept;

    /// Makes the meshes of a head. Cheap enough to call at every edit of a number.
    void set_head(const head::Description& description);
    /// Draws into the bound framebuffer, `framebuffer_height` pixels high, inside the viewport only.
    void render(const head::Description& description, const head::Pose& pose, const Camera& camera, const Style& style,
                const Viewport& viewport, int framebuffer_height);
    /// The part under a pixel of the viewport (origin top left), by ray casting against the meshes; none if empty.
    std::optional<Part> pick(const head::Description& description, const head::Pose& pose, const Camera& camera,
                             const Style& style, const Viewport& viewport, double x, double y) const;
    /// The same with the place on the part.
    std::optional<Hit> hit(const head::Description& description, const head::Pose& pose, const Camera& camera,
                           const Style& style, const Viewport& viewport, double x, double y) const;
    /// What the eye sees; `names`: with a place for each part's name to point at, kept from `last` where it may be.
    /// `line`: height of a line of words, pixels.
    InSight in_sight(const head::Description& description, const head::Pose& pose, const Camera& camera,
                     const Style& style, const Viewport& viewport, double line, bool names, const InSight& last) const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace swashwright::draw
