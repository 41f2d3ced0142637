// What dims the light: near surfaces (ambient occlusion, from a coarse depth picture) and the head's shadow on the
// sheet (its plan, blurred). Both are small textures that the other shaders read. Need a current OpenGL context.
#pragma once

#include <functional>
#include <glm/glm.hpp>

#include "viewer/draw/gl_objects.h"

namespace swashwright::draw {

/// Draws every solid with the program in use: its placement goes into the first uniform, the plane beyond which it is
/// cut away into the second, if the program has one (else -1).
using DrawSolids = std::function<void(GLint frame, GLint cut)>;

struct ShadowPlan {
    float ground = 0, half = 100, reach = 50;  // mm: the sheet's height, half the plan's side, where shadows fade
};

class ShadeMaps {
public:
    ShadeMaps();
    /// Fills the occlusion map for a picture of this size.
    void make_occlusion(const DrawSolids& draw, const glm::mat4& view, const glm::mat4& projection, int width,
                        int height, float radius_mm);
    void make_shadow(const DrawSolids& draw, const ShadowPlan& plan);
    /// Draws the shadow on the sheet, mixing `tone` into the paper.
    void draw_shadow(const ShadowPlan& plan, const glm::mat4& view, const glm::mat4& projection, const glm::vec4& tone);
    GLuint occlusion() const { return occlusion_; }

private:
    void resize(int width, int height);
    void blur_shadow();

    GlProgram depth_program_, occlusion_program_, plan_program_, blur_program_, shadow_program_;
    GlArray empty_ = new_array();
    GlTexture depth_ = new_texture(), occlusion_ = new_texture(), plan_ = new_texture(), blurred_ = new_texture();
    GlFramebuffer depth_frame_ = new_framebuffer(), occlusion_frame_ = new_framebuffer(),
                  plan_frame_ = new_framebuffer(), blurred_frame_ = new_framebuffer();
    int width_ = 0, height_ = 0;
};

}  // namespace swashwright::draw
