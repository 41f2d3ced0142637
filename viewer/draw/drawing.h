// The head as a shaded technical drawing: the description gives the shapes, a pose puts them in place.
// Needs a current OpenGL 3.3 core context; touches only the framebuffer that is bound.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "viewer/draw/camera.h"
#include "viewer/draw/ghost.h"
#include "viewer/draw/part.h"
#include "viewer/draw/traces.h"

namespace swashwright::draw {

/// A rectangle of the framebuffer in pixels, origin at the top left.
struct Viewport {
    int x = 0, y = 0, width = 0, height = 0;
};

struct Style {
    bool night = false;                    // the dark sheet
    double exaggeration = 1;               // 1 to 20: blades are drawn at mean pitch + this x (pitch - mean)
    bool hollows = true;                   // shaded; costs a fifth of a picture
    bool whole_blades = false;             // false: stubs, so that the head fills the picture
    std::optional<Part> touched;           // drawn in the accent colour
    std::optional<Part> touched_too = {};  // the other part of a pair
    std::vector<Part> lit = {};            // also in the accent colour: what a lesson speaks of
    std::vector<Part> trouble;             // drawn with a mark
    /// Cut open through the shaft: what lies on the side of this azimuth is taken away; the shaft stays whole.
    std::optional<double> section_deg = {};
    std::shared_ptr<const Ghost> ghost = {};    // its outlines, dashed
    std::shared_ptr<const Traces> traces = {};  // their lines
};

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
    /// What the eye sees; `names`: with a place for each part's name to point at, kept from `last` where it may be.
    /// `line`: height of a line of words, pixels.
    InSight in_sight(const head::Description& description, const head::Pose& pose, const Camera& camera,
                     const Style& style, const Viewport& viewport, double line, bool names, const InSight& last) const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace swashwright::draw
