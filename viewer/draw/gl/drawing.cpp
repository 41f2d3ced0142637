#include "viewer/draw/gl/drawing.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <tuple>

#include "viewer/draw/base/palette.h"
#include "viewer/draw/gl/gl_objects.h"
#include "viewer/draw/gl/shaders.h"
#include "viewer/draw/gl/solid_painter.h"
#include "viewer/draw/lines/cut_away.h"
#include "viewer/draw/lines/in_sight.h"
#include "viewer/draw/lines/pick.h"
#include "viewer/draw/lines/strokes.h"

namespace swashwright::draw {
namespace {

/// Of line widths: larger in large pictures, finer where the head is so small that its lines would run together.
float pen_scale(const Camera& camera, const Viewport& viewport, double ring_mm) {
    const double sheet_mm = 2 * camera.distance_mm * std::tan(camera.view_deg * degree / 2);
    const double ring_px = ring_mm / sheet_mm * viewport.height;
    return static_cast<float>(std::clamp(viewport.height / 800.0, 0.75, 3.0) * std::clamp(ring_px / 40, 0.4, 1.0));
}

/// Solids in the order in which the painter wants them.
std::vector<Drawn> sorted(std::vector<Drawn> drawn) {
    const auto key = [](const Drawn& d) { return std::tie(d.frame, d.part, d.tone); };
    std::ranges::stable_sort(drawn, [&](const Drawn& a, const Drawn& b) { return key(a) < key(b); });
    return drawn;
}

std::vector<Solid> without(const std::vector<Part>& hidden, std::vector<Solid> solids) {
    if (!hidden.empty())
        std::erase_if(solids, [&](const Solid& solid) { return std::ranges::binary_search(hidden, solid.part); });
    return solids;
}

std::optional<Plane> cut_of(const Style& style) {
    return style.section_deg ? std::optional(plane_towards(*style.section_deg)) : std::nullopt;
}

/// In a section without what is taken away whole.
Frames frames_of(const head::Description& description, const head::Pose& pose, const Style& style) {
    const auto cut = cut_of(style);
    return cut ? frames_short_of(*cut, description, pose, style.exaggeration)
               : Frames(description, pose, style.exaggeration);
}

}  // namespace

struct Drawing::Impl {
    SolidPainter painter;
    GlProgram pen = new_program(pen_vertex, pen_fragment);
    GlArray stroke_array = new_array();
    GlBuffer stroke_buffer = new_buffer(), stroke_indices = new_buffer();
    std::size_t stroke_room = 0;

    Proportions proportions{};
    bool whole_blades = false, inside = false;
    std::vector<Part> hidden;
    std::vector<Drawn> drawn;
    std::vector<SeamLines> seam_lines;
    std::vector<Stroke> strokes, corners;  // kept from frame to frame for their room

    std::shared_ptr<const head::Description> ghost_description;  // what the ghost was made from
    bool ghost_whole_blades = false;
    std::vector<Part> ghost_hidden;
    std::vector<Drawn> ghost;

    void keep_ghost(const Style& style);
    void gather_strokes(const head::Description& description, const head::Pose& pose, const Frames& frames,
                        const Style& style, const std::vector<CutFace>& faces, const Vec3& eye);
    void make_stroke_room();
    void draw_strokes(const Sight& sight);
};

void Drawing::Impl::keep_ghost(const Style& style) {
    if (!style.ghost) return;
    if (style.ghost->description == ghost_description && ghost_whole_blades == style.whole_blades &&
        ghost_hidden == style.hidden)
        return;
    ghost_description = style.ghost->description;
    ghost_whole_blades = style.whole_blades;
    ghost_hidden = style.hidden;
    ghost = drawn_from(without(ghost_hidden, solids_of(*ghost_description, ghost_whole_blades)));
}

void Drawing::Impl::gather_strokes(const head::Description& description, const head::Pose& pose, const Frames& frames,
                                   const Style& style, const std::vector<CutFace>& faces, const Vec3& eye) {
    strokes.clear();
    stroke_construction(description, proportions, pose, style, strokes);
    const auto cut = cut_of(style);
    for (const Drawn& d : drawn) {
        const Placement* placement = frames.find(d.frame);
        if (placement == nullptr) continue;
        const Wash colours = wash_of(d.part, d.tone, style);
        const std::size_t first = strokes.size();
        stroke_edges(d, *placement, eye, colours.outline, colours.crease, colours.weight, strokes);
        if (cut && !uncut(d.part)) cut_strokes(*cut, first, strokes);
    }
    for (const SeamLines& lines : seam_lines) {
        const Placement* placement = frames.find(lines.frame);
        if (placement == nullptr) continue;
        const std::size_t first = strokes.size();
        stroke_seams(lines, *placement, eye, wash_of(lines.part, Tone::alloy, style).crease, strokes);
        if (cut && !uncut(lines.part)) cut_strokes(*cut, first, strokes);
    }
    for (const CutFace& face : faces) stroke_cut(face.lines, packed(sheet(style.night).ink), strokes);
    if (style.traces) stroke_traces(*style.traces, proportions, style, strokes);
    if (style.ghost) {
        const std::size_t first = strokes.size();
        stroke_ghost(ghost, Frames(*ghost_description, style.ghost->pose, style.exaggeration), eye, style, strokes);
        if (cut) cut_strokes(*cut, first, strokes);
    }
}

void Drawing::Impl::draw_strokes(const Sight& sight) {
    glUseProgram(pen);
    set_matrix(pen, "view", sight.view);
    set_matrix(pen, "projection", sight.projection);
    glUniform2f(glGetUniformLocation(pen, "size"), static_cast<float>(sight.width), static_cast<float>(sight.height));
    glUniform1f(glGetUniformLocation(pen, "pixel"), sight.pixel);
    glUniform1f(glGetUniformLocation(pen, "nearer"), sight.nearer);

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
    const std::vector<Solid> solids =
        without(impl_->hidden, solids_of(description, impl_->whole_blades, impl_->inside));
    impl_->proportions = proportions_of(description);
    impl_->drawn = sorted(drawn_from(solids));
    impl_->seam_lines = seams_between(solids);
    impl_->painter.upload(impl_->drawn);
}

void Drawing::render(const head::Description& description, const head::Pose& pose, const Camera& camera,
                     const Style& style, const Viewport& viewport, int framebuffer_height) {
    if (viewport.width <= 0 || viewport.height <= 0) return;
    if (style.whole_blades != impl_->whole_blades || style.section_deg.has_value() != impl_->inside ||
        style.hidden != impl_->hidden) {
        impl_->hidden = style.hidden;
        impl_->whole_blades = style.whole_blades;
        impl_->inside = style.section_deg.has_value();
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
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT | GL_STENCIL_BUFFER_BIT);

    const double per_pixel = 2 * std::tan(camera.view_deg * degree / 2) / viewport.height;
    const Sight sight{glm::mat4(camera.view()),
                      glm::mat4(camera.projection(static_cast<double>(viewport.width) / viewport.height)),
                      viewport.x,
                      bottom,
                      viewport.width,
                      viewport.height,
                      pen_scale(camera, viewport, impl_->proportions.ring),
                      static_cast<float>(std::min(per_pixel, 0.004)),
                      cut_of(style)};
    impl_->keep_ghost(style);
    const Frames frames = frames_of(description, pose, style);
    if (camera.eye().z() > impl_->proportions.ground)
        impl_->painter.draw_shadow(frames, style, impl_->proportions, sight);
    impl_->painter.draw_solids(frames, style, impl_->proportions, sight);
    const auto faces = sight.cut ? cut_faces(impl_->drawn, frames, *sight.cut) : std::vector<CutFace>();
    impl_->painter.draw_faces(faces, style, sight);
    glEnable(GL_BLEND);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE);
    impl_->gather_strokes(description, pose, frames, style, faces, camera.eye());
    impl_->draw_strokes(sight);

    glBindVertexArray(0);
    glUseProgram(0);
    glDepthMask(GL_TRUE);
    glDisable(GL_BLEND);
    glDisable(GL_DEPTH_TEST);
    glDisable(GL_SCISSOR_TEST);
}

std::optional<Part> Drawing::pick(const head::Description& description, const head::Pose& pose, const Camera& camera,
                                  const Style& style, const Viewport& viewport, double x, double y) const {
    return pick_part(impl_->drawn, frames_of(description, pose, style), camera, viewport, x, y, cut_of(style));
}

std::optional<Hit> Drawing::hit(const head::Description& description, const head::Pose& pose, const Camera& camera,
                                const Style& style, const Viewport& viewport, double x, double y) const {
    return hit_at(impl_->drawn, frames_of(description, pose, style), camera, viewport, x, y, cut_of(style));
}

InSight Drawing::in_sight(const head::Description& description, const head::Pose& pose, const Camera& camera,
                          const Style& style, const Viewport& viewport, double line, bool names,
                          const InSight& last) const {
    const Frames frames = frames_of(description, pose, style);
    const auto cut = cut_of(style);
    InSight seen;
    seen.kept_free = boxes_to_keep_free(impl_->drawn, frames, camera, style, viewport);
    if (names) seen.spots = spots_of(impl_->drawn, frames, camera, viewport, cut, last.spots);
    seen.words_at =
        azimuth_words_at(impl_->drawn, frames, impl_->proportions, camera, viewport, 1.1 * line, 0.5 * line, cut);
    return seen;
}

}  // namespace swashwright::draw
