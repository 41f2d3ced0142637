// Paints the solids: shadow, ambient occlusion, washes, cut faces. Needs a current OpenGL context. Internal to draw/.
#pragma once

#include <array>
#include <optional>
#include <utility>
#include <vector>

#include "viewer/draw/gl/gl_objects.h"
#include "viewer/draw/gl/shade_maps.h"
#include "viewer/draw/lines/plan_view.h"
#include "viewer/draw/lines/strokes.h"
#include "viewer/draw/lines/washes.h"
#include "viewer/draw/solids/section.h"

namespace swashwright::draw {

/// How one picture is looked at.
struct Sight {
    glm::mat4 view, projection;
    int x = 0, y = 0, width = 1, height = 1;  // pixels; origin at the lower left
    float pixel = 1;                          // scale of line widths
    float nearer = 0;                         // share of the way to the eye that one pixel's worth of depth is
    std::optional<Plane> cut;                 // what lies beyond is taken away
};

/// The outline of a cut face, head frame, and how it is filled.
struct CutFace {
    Part part;
    Tone tone = Tone::alloy;
    std::vector<CutLine> lines;
};
/// The faces where a plane cuts the solids, of those that are cut.
std::vector<CutFace> cut_faces(const std::vector<Drawn>& drawn, const Frames& frames, const Plane& plane);

class SolidPainter {
public:
    SolidPainter();
    /// `drawn` sorted by frame, part and tone, so that neighbours share a call.
    void upload(const std::vector<Drawn>& drawn);
    void draw_shadow(const Frames& frames, const Style& style, const Proportions& p, const Sight& sight);
    void draw_solids(const Frames& frames, const Style& style, const Proportions& p, const Sight& sight);
    void draw_faces(const std::vector<CutFace>& faces, const Style& style, const Sight& sight);

private:
    struct Batch {
        Part part;
        Frame frame;
        Tone tone = Tone::alloy;
        int first = 0, count = 0;  // indices
    };
    void draw_batch(const Batch& batch) const;
    void paint(std::size_t material, const Frames& frames, const Style& style, const Proportions& p,
               const Sight& sight) const;

    std::array<GlProgram, 5> washes_;  // metal, plastic, carbon, thread, in trouble
    GlProgram face_program_;
    ShadeMaps maps_;
    GlArray mesh_array_ = new_array(), face_array_ = new_array();
    GlBuffer points_ = new_buffer(), indices_ = new_buffer(), face_points_ = new_buffer();
    std::vector<Batch> batches_;
    std::vector<Caster> casters_;
};

}  // namespace swashwright::draw
