#include "viewer/draw/drawing.h"

#include <algorithm>
#include <cmath>
#include <glm/gtc/type_ptr.hpp>
#include <string>
#include <tuple>

#include "viewer/draw/gl_objects.h"
#include "viewer/draw/palette.h"
#include "viewer/draw/pick.h"
#include "viewer/draw/shaders.h"
#include "viewer/draw/strokes.h"
#include "viewer/draw/washes.h"

namespace swashwright::draw {
namespace {

glm::mat4 as_matrix(const Placement& placement) {
    glm::mat4 m(1);
    for (int c = 0; c < 3; ++c) {
        for (int r = 0; r < 3; ++r) m[c][r] = static_cast<float>(placement.turn(r, c));
        m[3][c] = static_cast<float>(placement.origin[c]);
    }
    return m;
}

void set(GLuint program, const char* name, const glm::mat4& value) {
    glUniformMatrix4fv(glGetUniformLocation(program, name), 1, GL_FALSE, glm::value_ptr(value));
}

/// Of line widths: larger in large pictures, finer where the head is so small that its lines would run together.
float pen_scale(const Camera& camera, const Viewport& viewport, double ring_mm) {
    const double sheet_mm = 2 * camera.distance_mm * std::tan(camera.view_deg * degree / 2);
    const double ring_px = ring_mm / sheet_mm * viewport.height;
    return static_cast<float>(std::clamp(viewport.height / 800.0, 0.75, 3.0) * std::clamp(ring_px / 40, 0.4, 1.0));
}

/// Solids that ride on one frame in one colour: drawn with one call.
struct Batch {
    Part part;
    Frame frame;
    Tone tone = Tone::alloy;
    int first = 0, count = 0;  // indices
};

}  // namespace

struct Drawing::Impl {
    GlProgram wash = new_program(wash_vertex, plain + std::string(wash_fragment));
    GlProgram marked_wash = new_program(wash_vertex, with_marks + std::string(wash_fragment));
    GlProgram pen = new_program(pen_vertex, pen_fragment);
    GlProgram shadow = new_program(shadow_vertex, shadow_fragment);
    GlArray mesh_array = new_array(), stroke_array = new_array();
    GlBuffer points = new_buffer(), indices = new_buffer(), stroke_buffer = new_buffer();
    GlBuffer stroke_indices = new_buffer();
    std::size_t stroke_room = 0;

    Proportions proportions{};
    bool whole_blades = false;
    std::vector<Drawn> drawn;
    std::vector<SeamLines> seam_lines;
    std::vector<Batch> batches;
    std::vector<Stroke> strokes, corners;  // kept from frame to frame for their room

    void upload();
    void draw_shadow(const Frames& frames, const Style& style, const glm::mat4& view, const glm::mat4& projection);
    void draw_solids(bool marked, const Frames& frames, const Style& style, const glm::mat4& view,
                     const glm::mat4& projection, float pixel);
    void gather_strokes(const head::Description& description, const head::Pose& pose, const Frames& frames,
                        const Style& style, const Vec3& eye);
    void make_stroke_room();
    void draw_strokes(const Camera& camera, const Viewport& viewport, const glm::mat4& view,
                      const glm::mat4& projection, float pixel);
};

void Drawing::Impl::upload() {
    std::vector<float> numbers;  // point, normal
    std::vector<std::uint32_t> order;
    batches.clear();
    for (const Drawn& d : drawn) {
        if (batches.empty() || batches.back().part != d.part || batches.back().frame != d.frame ||
            batches.back().tone != d.tone) {
            batches.push_back({d.part, d.frame, d.tone, static_cast<int>(order.size()), 0});
        }
        const auto base = static_cast<std::uint32_t>(numbers.size() / 6);
        for (const Vertex& v : d.surface.vertices) {
            for (const Vec3* p : {&v.point, &v.normal}) {
                for (int k = 0; k < 3; ++k) numbers.push_back(static_cast<float>((*p)[k]));
            }
        }
        for (int index : d.surface.triangles) order.push_back(base + static_cast<std::uint32_t>(index));
        batches.back().count += static_cast<int>(d.surface.triangles.size());
    }
    glBindVertexArray(mesh_array);
    glBindBuffer(GL_ARRAY_BUFFER, points);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(numbers.size() * sizeof(float)), numbers.data(),
                 GL_STATIC_DRAW);
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices);
    glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(order.size() * sizeof(std::uint32_t)), order.data(),
                 GL_STATIC_DRAW);
    for (GLuint k = 0; k < 2; ++k) {
        glEnableVertexAttribArray(k);
        glVertexAttribPointer(k, 3, GL_FLOAT, GL_FALSE, 6 * sizeof(float),
                              reinterpret_cast<const void*>(k * 3 * sizeof(float)));  // NOLINT: an offset by contract
    }
    glBindVertexArray(0);
}

void Drawing::Impl::draw_shadow(const Frames& frames, const Style& style, const glm::mat4& view,
                                const glm::mat4& projection) {
    // The darker of paper and shadow wins, so that overlapping shadows do not add up.
    glDisable(GL_DEPTH_TEST);
    glEnable(GL_BLEND);
    glBlendEquation(GL_MIN);
    glUseProgram(shadow);
    set(shadow, "view", view);
    set(shadow, "projection", projection);
    glUniform1f(glGetUniformLocation(shadow, "ground"), static_cast<float>(proportions.ground));
    const glm::vec3 tone = sheet(style.night).paper * (style.night ? 0.72F : 0.925F);
    glUniform3fv(glGetUniformLocation(shadow, "tone"), 1, glm::value_ptr(tone));
    const GLint frame = glGetUniformLocation(shadow, "frame");
    glBindVertexArray(mesh_array);
    for (const Batch& batch : batches) {
        // Balls, sockets and rods are too small to be missed, and many.
        if (batch.tone == Tone::bright || batch.tone == Tone::dark || batch.tone == Tone::thread) continue;
        const Placement* placement = frames.find(batch.frame);
        if (placement == nullptr) continue;
        glUniformMatrix4fv(frame, 1, GL_FALSE, glm::value_ptr(as_matrix(*placement)));
        glDrawElements(GL_TRIANGLES, batch.count, GL_UNSIGNED_INT,
                       reinterpret_cast<const void*>(batch.first * sizeof(std::uint32_t)));  // NOLINT: an offset
    }
    glBlendEquation(GL_FUNC_ADD);
    glDisable(GL_BLEND);
    glEnable(GL_DEPTH_TEST);
}

void Drawing::Impl::draw_solids(bool marked, const Frames& frames, const Style& style, const glm::mat4& view,
                                const glm::mat4& projection, float pixel) {
    // Uniforms that the plain program lacks are at -1, which OpenGL passes over.
    const GLuint program = marked ? marked_wash : wash;
    glUseProgram(program);
    set(program, "view", view);
    set(program, "projection", projection);
    glUniform1f(glGetUniformLocation(program, "pixel"), pixel);
    const GLint frame = glGetUniformLocation(program, "frame"), light = glGetUniformLocation(program, "light"),
                shade = glGetUniformLocation(program, "shade"), hatch = glGetUniformLocation(program, "hatch"),
                thread = glGetUniformLocation(program, "thread");
    glBindVertexArray(mesh_array);
    for (const Batch& batch : batches) {
        const Placement* placement = frames.find(batch.frame);
        if (placement == nullptr) continue;
        const Wash colours = wash_of(batch.part, batch.tone, style);
        if (marked != (batch.tone == Tone::thread || colours.hatch.a > 0)) continue;
        glUniformMatrix4fv(frame, 1, GL_FALSE, glm::value_ptr(as_matrix(*placement)));
        glUniform3fv(light, 1, glm::value_ptr(colours.light));
        glUniform3fv(shade, 1, glm::value_ptr(colours.shade));
        glUniform4fv(hatch, 1, glm::value_ptr(colours.hatch));
        glUniform1f(thread, batch.tone == Tone::thread ? static_cast<float>(0.42 * proportions.ball) : 0.0F);
        glDrawElements(GL_TRIANGLES, batch.count, GL_UNSIGNED_INT,
                       reinterpret_cast<const void*>(batch.first * sizeof(std::uint32_t)));  // NOLINT: an offset
    }
}

void Drawing::Impl::gather_strokes(const head::Description& description, const head::Pose& pose, const Frames& frames,
                                   const Style& style, const Vec3& eye) {
    strokes.clear();
    stroke_construction(description, proportions, pose, style, strokes);
    for (const Drawn& d : drawn) {
        const Placement* placement = frames.find(d.frame);
        if (placement == nullptr) continue;
        const Wash colours = wash_of(d.part, d.tone, style);
        stroke_edges(d, *placement, eye, colours.outline, colours.crease, colours.weight, strokes);
    }
    for (const SeamLines& lines : seam_lines) {
        const Placement* placement = frames.find(lines.frame);
        if (placement == nullptr) continue;
        stroke_seams(lines, *placement, eye, wash_of(lines.part, Tone::alloy, style).crease, strokes);
    }
}

void Drawing::Impl::draw_strokes(const Camera& camera, const Viewport& viewport, const glm::mat4& view,
                                 const glm::mat4& projection, float pixel) {
    glUseProgram(pen);
    set(pen, "view", view);
    set(pen, "projection", projection);
    glUniform2f(glGetUniformLocation(pen, "size"), static_cast<float>(viewport.width),
                static_cast<float>(viewport.height));
    glUniform1f(glGetUniformLocation(pen, "pixel"), pixel);
    const double per_pixel = 2 * std::tan(camera.view_deg * degree / 2) / viewport.height;
    glUniform1f(glGetUniformLocation(pen, "nearer"), static_cast<float>(std::min(per_pixel, 0.004)));

    // Four corners to a stroke. Not instanced: software renderers take each instance as a drawing of its own.
    corners.clear();
    for (const Stroke& stroke : strokes) corners.insert(corners.end(), 4, stroke);
    glBindVertexArray(stroke_array);
    glBindBuffer(GL_ARRAY_BUFFER, stroke_buffer);
    if (strokes.size() > stroke_room) make_stroke_room();
    glBufferSubData(GL_ARRAY_BUFFER, 0, static_cast<GLsizeiptr>(corners.size() * sizeof(Stroke)), corners.data());
    glDrawElements(GL_TRIANGLES, static_cast<GLsizei>(6 * strokes.size()), GL_UNSIGNED_INT, nullptr);
}

void Drawing::Impl::make_stroke_room() {
    stroke_room = strokes.size() + strokes.size() / 2;
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(4 * stroke_room * sizeof(Stroke)), nullptr, GL_STREAM_DRAW);
    std::vector<std::uint32_t> order;
    for (std::uint32_t first = 0; first < 4 * stroke_room; first += 4) {
        for (std::uint32_t corner : {0U, 1U, 2U, 2U, 1U, 3U}) order.push_back(first + corner);
    }
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, stroke_indices);
    glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(order.size() * sizeof(std::uint32_t)), order.data(),
                 GL_STATIC_DRAW);
}

Drawing::Drawing() : impl_(std::make_unique<Impl>()) {
    const auto attribute = [](GLuint place, int size, GLenum type, GLboolean normalised, std::size_t offset) {
        glEnableVertexAttribArray(place);
        glVertexAttribPointer(place, size, type, normalised, sizeof(Stroke),
                              reinterpret_cast<const void*>(offset));  // NOLINT: an offset by contract
    };
    glBindVertexArray(impl_->stroke_array);
    glBindBuffer(GL_ARRAY_BUFFER, impl_->stroke_buffer);
    attribute(0, 3, GL_FLOAT, GL_FALSE, offsetof(Stroke, a));
    attribute(1, 3, GL_FLOAT, GL_FALSE, offsetof(Stroke, b));
    attribute(2, 4, GL_UNSIGNED_BYTE, GL_TRUE, offsetof(Stroke, colour));
    attribute(3, 1, GL_FLOAT, GL_FALSE, offsetof(Stroke, width));
    attribute(4, 1, GL_FLOAT, GL_FALSE, offsetof(Stroke, lift));
    glBindVertexArray(0);
}

Drawing::~Drawing() = default;
Drawing::Drawing(Drawing&&) noexcept = default;
Drawing& Drawing::operator=(Drawing&&) noexcept = default;

void Drawing::set_head(const head::Description& description) {
    const std::vector<Solid> solids = solids_of(description, impl_->whole_blades);
    impl_->proportions = proportions_of(description);
    impl_->drawn = drawn_from(solids);
    impl_->seam_lines = seams_between(solids);
    const auto key = [](const Drawn& d) { return std::tie(d.frame, d.part, d.tone); };
    std::ranges::stable_sort(impl_->drawn, [&](const Drawn& a, const Drawn& b) { return key(a) < key(b); });
    impl_->upload();
}

void Drawing::render(const head::Description& description, const head::Pose& pose, const Camera& camera,
                     const Style& style, const Viewport& viewport, int framebuffer_height) {
    if (viewport.width <= 0 || viewport.height <= 0) return;
    if (style.whole_blades != impl_->whole_blades) {
        impl_->whole_blades = style.whole_blades;
        set_head(description);
    }
    const int bottom = framebuffer_height - viewport.y - viewport.height;  // OpenGL counts from below
    glViewport(viewport.x, bottom, viewport.width, viewport.height);
    glScissor(viewport.x, bottom, viewport.width, viewport.height);
    glEnable(GL_SCISSOR_TEST);
    glDisable(GL_BLEND);
    glEnable(GL_DEPTH_TEST);
    glDisable(GL_CULL_FACE);
    glDepthMask(GL_TRUE);
    const glm::vec3 paper = sheet(style.night).paper;
    glClearColor(paper.r, paper.g, paper.b, 1);
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);

    const glm::mat4 view(camera.view());
    const glm::mat4 projection(camera.projection(static_cast<double>(viewport.width) / viewport.height));
    const float pixel = pen_scale(camera, viewport, impl_->proportions.ring);
    const Frames frames(description, pose, style.exaggeration);
    if (camera.eye().z() > impl_->proportions.ground) impl_->draw_shadow(frames, style, view, projection);
    glEnable(GL_CULL_FACE);
    for (bool marked : {false, true}) impl_->draw_solids(marked, frames, style, view, projection, pixel);
    glDisable(GL_CULL_FACE);
    glEnable(GL_BLEND);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE);
    impl_->gather_strokes(description, pose, frames, style, camera.eye());
    impl_->draw_strokes(camera, viewport, view, projection, pixel);

    glBindVertexArray(0);
    glUseProgram(0);
    glDepthMask(GL_TRUE);
    glDisable(GL_BLEND);
    glDisable(GL_DEPTH_TEST);
    glDisable(GL_SCISSOR_TEST);
}

std::optional<Part> Drawing::pick(const head::Description& description, const head::Pose& pose, const Camera& camera,
                                  const Style& style, const Viewport& viewport, double x, double y) const {
    return pick_part(impl_->drawn, Frames(description, pose, style.exaggeration), camera, viewport, x, y);
}

}  // namespace swashwright::draw
