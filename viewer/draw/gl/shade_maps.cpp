#include "viewer/draw/gl/shade_maps.h"

#include <algorithm>
#include <glm/gtc/type_ptr.hpp>
#include <string>

#include "viewer/draw/gl/shade_shaders.h"

namespace swashwright::draw {
namespace {

constexpr int plan_side = 192;  // pixels; blurred anyway

void size_texture(GLuint texture, GLint format, GLenum layout, GLenum type, int width, int height, GLint filter) {
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, format, width, height, 0, layout, type, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, filter);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, filter);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
}

void attach(GLuint frame, GLenum place, GLuint texture) {
    glBindFramebuffer(GL_FRAMEBUFFER, frame);
    glFramebufferTexture2D(GL_FRAMEBUFFER, place, GL_TEXTURE_2D, texture, 0);
}

void set_plan(GLuint program, const ShadowPlan& plan) {
    glUniform3f(glGetUniformLocation(program, "plan"), plan.ground, plan.half, plan.reach);
}

/// Remembers where the caller draws and goes back there. The viewport is told, because a page waits for all that was
/// drawn before it learns it from OpenGL.
class Aside {
public:
    explicit Aside(const Place& place) : place_(place) {
        glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &draw_);
        glGetIntegerv(GL_READ_FRAMEBUFFER_BINDING, &read_);
        scissor_ = glIsEnabled(GL_SCISSOR_TEST);
        glDisable(GL_SCISSOR_TEST);
    }
    ~Aside() {
        glBindFramebuffer(GL_DRAW_FRAMEBUFFER, static_cast<GLuint>(draw_));
        glBindFramebuffer(GL_READ_FRAMEBUFFER, static_cast<GLuint>(read_));
        glViewport(place_.x, place_.y, place_.width, place_.height);
        if (scissor_ == GL_TRUE) glEnable(GL_SCISSOR_TEST);
    }
    Aside(const Aside&) = delete;
    Aside& operator=(const Aside&) = delete;
    GLuint drawn_on() const { return static_cast<GLuint>(draw_); }

private:
    Place place_;
    GLint draw_ = 0, read_ = 0;
    GLboolean scissor_ = GL_FALSE;
};

}  // namespace

ShadeMaps::ShadeMaps()
    : occlusion_program_(new_program(whole_vertex, occlusion_fragment)),
      dim_program_(new_program(whole_vertex, dim_fragment)),
      plan_program_(new_program(plan_vertex, plan_fragment)),
      blur_program_(new_program(whole_vertex, blur_fragment)),
      shadow_program_(new_program(shadow_vertex, shadow_fragment)) {
    glBindVertexArray(plan_array_);
    glBindBuffer(GL_ARRAY_BUFFER, plan_points_);
    glEnableVertexAttribArray(0);
    glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, 3 * sizeof(float), nullptr);
    glBindVertexArray(0);
    const Aside aside({});
    for (const auto& [frame, texture] : {std::pair<GLuint, GLuint>(plan_frame_, plan_), {blurred_frame_, blurred_}}) {
        size_texture(texture, GL_R8, GL_RED, GL_UNSIGNED_BYTE, plan_side, plan_side, GL_LINEAR);
        attach(frame, GL_COLOR_ATTACHMENT0, texture);
    }
}

void ShadeMaps::resize(int width, int height) {
    if (width == width_ && height == height_) return;
    width_ = width;
    height_ = height;
    // As fine as the picture and of its format, so that the depth can be copied.
    size_texture(depth_, GL_DEPTH24_STENCIL8, GL_DEPTH_STENCIL, GL_UNSIGNED_INT_24_8, width, height, GL_NEAREST);
    size_texture(occlusion_, GL_R8, GL_RED, GL_UNSIGNED_BYTE, (width + 1) / 2, (height + 1) / 2, GL_LINEAR);
    attach(depth_frame_, GL_DEPTH_STENCIL_ATTACHMENT, depth_);
    constexpr GLenum none = GL_NONE;
    glDrawBuffers(1, &none);
    glReadBuffer(GL_NONE);
    attach(occlusion_frame_, GL_COLOR_ATTACHMENT0, occlusion_);
}

void ShadeMaps::find_occlusion(const glm::mat4& projection, float radius_mm, const Place& place) {
    const Aside aside(place);
    const auto [x, y, width, height] = place;
    resize(std::max(1, width), std::max(1, height));
    glBindFramebuffer(GL_READ_FRAMEBUFFER, aside.drawn_on());
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, depth_frame_);
    glBlitFramebuffer(x, y, x + width, y + height, 0, 0, width, height, GL_DEPTH_BUFFER_BIT, GL_NEAREST);

    glBindFramebuffer(GL_FRAMEBUFFER, occlusion_frame_);
    glViewport(0, 0, (width_ + 1) / 2, (height_ + 1) / 2);
    glDisable(GL_DEPTH_TEST);
    glClearColor(1, 1, 1, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    glUseProgram(occlusion_program_);
    // Of glm::perspective: ndc depth is -a + b / distance.
    const float a = projection[2][2], b = projection[3][2];
    glUniform2f(glGetUniformLocation(occlusion_program_, "inverse"), (a - 1) / b, -2 / b);
    glUniform1f(glGetUniformLocation(occlusion_program_, "radius"), radius_mm);
    glUniform1f(glGetUniformLocation(occlusion_program_, "reach"),
                radius_mm * projection[1][1] * 0.5F * static_cast<float>(height_));
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, depth_);
    glBindVertexArray(empty_);
    glDrawArrays(GL_TRIANGLES, 0, 3);
    glEnable(GL_DEPTH_TEST);
}

void ShadeMaps::dim_occluded(const glm::mat4& projection, float radius_mm, const Place& place) {
    find_occlusion(projection, radius_mm, place);
    glUseProgram(dim_program_);
    glUniform2f(glGetUniformLocation(dim_program_, "texel"), 2.0F / static_cast<float>(width_ + 1),
                2.0F / static_cast<float>(height_ + 1));
    glBindTexture(GL_TEXTURE_2D, occlusion_);
    glBindVertexArray(empty_);
    glDepthFunc(GL_GREATER);
    glDepthMask(GL_FALSE);
    glEnable(GL_BLEND);
    glBlendFunc(GL_ZERO, GL_SRC_COLOR);
    glDrawArrays(GL_TRIANGLES, 0, 3);
    glDisable(GL_BLEND);
    glDepthMask(GL_TRUE);
    glDepthFunc(GL_LESS);
}

void ShadeMaps::make_shadow(const std::vector<float>& triangles, const ShadowPlan& plan, const Place& place) {
    const Aside aside(place);
    glViewport(0, 0, plan_side, plan_side);
    glBindFramebuffer(GL_FRAMEBUFFER, plan_frame_);
    glDisable(GL_DEPTH_TEST);
    glClearColor(0, 0, 0, 0);
    glClear(GL_COLOR_BUFFER_BIT);
    glEnable(GL_BLEND);
    glBlendEquation(GL_MAX);  // overlapping shadows do not add up
    glUseProgram(plan_program_);
    set_plan(plan_program_, plan);
    glBindVertexArray(plan_array_);
    glBindBuffer(GL_ARRAY_BUFFER, plan_points_);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(triangles.size() * sizeof(float)), triangles.data(),
                 GL_STREAM_DRAW);
    glDrawArrays(GL_TRIANGLES, 0, static_cast<GLsizei>(triangles.size() / 3));
    glBlendEquation(GL_FUNC_ADD);
    glDisable(GL_BLEND);
    blur_shadow();
    glEnable(GL_DEPTH_TEST);
}

void ShadeMaps::blur_shadow() {
    glUseProgram(blur_program_);
    glActiveTexture(GL_TEXTURE0);
    glBindVertexArray(empty_);
    constexpr float step = 1.0F / plan_side;
    for (bool across : {true, false}) {
        glBindFramebuffer(GL_FRAMEBUFFER, across ? blurred_frame_ : plan_frame_);
        glBindTexture(GL_TEXTURE_2D, across ? plan_ : blurred_);
        glUniform2f(glGetUniformLocation(blur_program_, "step"), across ? step : 0, across ? 0 : step);
        glDrawArrays(GL_TRIANGLES, 0, 3);
    }
}

void ShadeMaps::draw_shadow(const ShadowPlan& plan, const glm::mat4& view, const glm::mat4& projection,
                            const glm::vec4& tone) {
    glDisable(GL_DEPTH_TEST);
    glEnable(GL_BLEND);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    glUseProgram(shadow_program_);
    set_matrix(shadow_program_, "view", view);
    set_matrix(shadow_program_, "projection", projection);
    set_plan(shadow_program_, plan);
    glUniform4fv(glGetUniformLocation(shadow_program_, "tone"), 1, glm::value_ptr(tone));
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, plan_);
    glBindVertexArray(empty_);
    glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
    glDisable(GL_BLEND);
    glEnable(GL_DEPTH_TEST);
}

}  // namespace swashwright::draw
