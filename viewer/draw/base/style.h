// How a head is drawn, and where: what every layer of a picture is given.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "viewer/draw/base/ghost.h"
#include "viewer/draw/base/part.h"
#include "viewer/draw/base/traces.h"

namespace swashwright::draw {

/// A rectangle of the framebuffer in pixels, origin at the top left.
struct Viewport {
    int x = 0, y = 0, width = 0, height = 0;
};

struct Style {
    bool night = false;                    // the dark sheet
    double exaggeration = 1;               // 1 to 20: blades are drawn at mean pitch + this x (pitch - mean)
    bool ambient_occlusion = true;         // near surfaces shade each other; costs a fifth of a picture
    bool whole_blades = false;             // false: stubs, so that the head fills the picture
    std::optional<Part> touched;           // drawn in the accent colour
    std::optional<Part> touched_too = {};  // the other part of a pair
    std::vector<Part> lit = {};            // also in the accent colour: what a lesson speaks of
    std::vector<Part> trouble;             // drawn with a mark
    std::vector<Part> hidden = {};         // neither drawn nor picked; in order, each once
    /// Cut open through the shaft: what lies on the side of this azimuth is taken away; the shaft stays whole.
    std::optional<double> section_deg = {};
    std::shared_ptr<const Ghost> ghost = {};    // its outlines, dashed
    std::shared_ptr<const Traces> traces = {};  // their lines

    bool operator==(const Style&) const = default;
};

}  // namespace swashwright::draw
