// What dims the light: near surfaces (ambient occlusion, from the depth of what is drawn) and the head's shadow on the
// sheet (its plan, blurred). Need a current OpenGL context.
#pragma once

#include <glm/glm.hpp>
#include <vector>

#include "viewer/draw/gl/gl_objects.h"

namespace swashwright::draw {

struct ShadowPlan {
    float ground = 0, half = 100, reach = 50;  // mm: the sheet's height, half the plan's side, where shadows fade
};

/// The viewport that is set: pixels, origin at the lower left.
struct Place {
    int x = 0, y = 0, width = 1, height = 1;
};

class ShadeMaps {
public:
    ShadeMaps();
    /// Ambient occlusion of the solids that stand in the framebuffer, at `place`; `radius_mm`: how far from a point
    /// what shades it is looked for.
    void dim_occluded(const glm::mat4& projection, float radius_mm, const Place& place);
    /// `triangles`: what throws it, x, y, z in the head frame, mm. `place` is set again afterwards.
    void make_shadow(const std::vector<float>& triangles, const ShadowPlan& plan, const Place& place);
    /// Draws the shadow on the sheet, mixing `tone` into the paper.
    void draw_shadow(const ShadowPlan& plan, const glm::mat4& view, const glm::mat4& projection, const glm::vec4& tone);

private:
    void resize(int width, int height);
    void find_occlusion(const glm::mat4& projection, float radius_mm, const Place& place);
    void blur_shadow();

    GlProgram occlusion_program_, dim_program_, plan_program_, blur_program_, shadow_program_;
    GlArray empty_ = new_array(), plan_array_ = new_array();
    GlBuffer plan_points_ = new_buffer();
    GlTexture depth_ = new_texture(), occlusion_ = new_texture(), plan_ = new_texture(), blurred_ = new_texture();
    GlFramebuffer depth_frame_ = new_framebuffer(), occlusion_frame_ = new_framebuffer(),
                  plan_frame_ = new_framebuffer(), blurred_frame_ = new_framebuffer();
    int width_ = 0, height_ = 0;
};

}  // namespace swashwright::draw
