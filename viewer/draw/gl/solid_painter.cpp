#include "viewer/draw/gl/solid_painter.h"

#include <algorithm>
#include <glm/gtc/type_ptr.hpp>
#include <string>

#include "viewer/draw/base/palette.h"
#include "viewer/draw/gl/shaders.h"
#include "viewer/draw/lines/cut_away.h"

namespace swashwright::draw {
namespace {

enum Material : std::size_t { metal, plastic, carbon, thread, trouble };

Material material_of(Tone tone) {
    switch (tone) {
        case Tone::plastic:
        case Tone::dark:
            return plastic;
        case Tone::carbon:
        case Tone::blade:
            return carbon;
        case Tone::thread:
            return thread;
        default:
            return metal;
    }
}

GlProgram wash_program(const char* material) {
    return new_program(wash_vertex, std::string(material) + wash_fragment);
}

glm::mat4 as_matrix(const Placement& placement) {
    glm::mat4 m(1);
    for (int c = 0; c < 3; ++c) {
        for (int r = 0; r < 3; ++r) m[c][r] = static_cast<float>(placement.turn(r, c));
        m[3][c] = static_cast<float>(placement.origin[c]);
    }
    return m;
}

glm::vec4 as_vector(const std::optional<Plane>& cut) {
    if (!cut) return {1, 0, 0, -1e9F};
    return {static_cast<float>(cut->normal.x()), static_cast<float>(cut->normal.y()),
            static_cast<float>(cut->normal.z()), static_cast<float>(-cut->offset)};
}

/// Clips while it lives, if there is something to clip.
class Clipping {
public:
    explicit Clipping(bool on) : on_(on && !is_es()) {
        if (on_) glEnable(GL_CLIP_DISTANCE0);
    }
    ~Clipping() {
        if (on_) glDisable(GL_CLIP_DISTANCE0);
    }
    Clipping(const Clipping&) = delete;
    Clipping& operator=(const Clipping&) = delete;

private:
    bool on_;
};

Place place_of(const Sight& sight) {
    return {sight.x, sight.y, sight.width, sight.height};
}

/// Parts that touch are hatched to different sides, balls and pins not at all.
float hatch_way(const Part& part) {
    const bool other = part.role == Role::outer_ring || part.role == Role::hub || part.role == Role::frame ||
                       (part.role == Role::lever && part.index % 2 == 1);
    return other ? -1.0F : 1.0F;
}

/// For the program in use.
void set_cut(GLint place, const Sight& sight, const Part& part) {
    glUniform4fv(place, 1, glm::value_ptr(as_vector(uncut(part) ? std::nullopt : sight.cut)));
}

}  // namespace

std::vector<CutFace> cut_faces(const std::vector<Drawn>& drawn, const Frames& frames, const Plane& plane) {
    std::vector<CutFace> faces;
    for (const Drawn& d : drawn) {
        const Placement* placement = frames.find(d.frame);
        if (placement == nullptr || uncut(d.part)) continue;
        auto lines = cut_lines(d.surface.vertices, d.surface.triangles, seen_from(plane, *placement));
        if (lines.empty()) continue;
        for (CutLine& line : lines) line = {*placement * line.a, *placement * line.b};
        faces.push_back({d.part, d.tone, std::move(lines)});
    }
    return faces;
}

SolidPainter::SolidPainter()
    : washes_{wash_program(of_metal), wash_program(of_plastic), wash_program(of_carbon), wash_program(of_thread),
              wash_program(in_trouble)},
      face_program_(new_program(face_vertex, face_fragment)) {
    glBindVertexArray(face_array_);
    glBindBuffer(GL_ARRAY_BUFFER, face_points_);
    glEnableVertexAttribArray(0);
    glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, 3 * sizeof(float), nullptr);
    glBindVertexArray(0);
}

void SolidPainter::upload(const std::vector<Drawn>& drawn) {
    std::vector<float> numbers;  // point, normal
    std::vector<std::uint32_t> order;
    batches_.clear();
    casters_ = casters_of(drawn);
    for (const Drawn& d : drawn) {
        if (batches_.empty() || batches_.back().part != d.part || batches_.back().frame != d.frame ||
            batches_.back().tone != d.tone) {
            batches_.push_back({d.part, d.frame, d.tone, static_cast<int>(order.size()), 0});
        }
        const auto base = static_cast<std::uint32_t>(numbers.size() / 6);
        for (const Vertex& v : d.surface.vertices) {
            for (const Vec3* p : {&v.point, &v.normal}) {
                for (int k = 0; k < 3; ++k) numbers.push_back(static_cast<float>((*p)[k]));
            }
        }
        for (int index : d.surface.triangles) order.push_back(base + static_cast<std::uint32_t>(index));
        batches_.back().count += static_cast<int>(d.surface.triangles.size());
    }
    glBindVertexArray(mesh_array_);
    glBindBuffer(GL_ARRAY_BUFFER, points_);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(numbers.size() * sizeof(float)), numbers.data(),
                 GL_STATIC_DRAW);
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_);
    glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(order.size() * sizeof(std::uint32_t)), order.data(),
                 GL_STATIC_DRAW);
    for (GLuint k = 0; k < 2; ++k) {
        glEnableVertexAttribArray(k);
        glVertexAttribPointer(k, 3, GL_FLOAT, GL_FALSE, 6 * sizeof(float),
                              reinterpret_cast<const void*>(k * 3 * sizeof(float)));  // NOLINT: an offset by contract
    }
    glBindVertexArray(0);
}

void SolidPainter::draw_batch(const Batch& batch) const {
    glDrawElements(GL_TRIANGLES, batch.count, GL_UNSIGNED_INT,
                   reinterpret_cast<const void*>(batch.first * sizeof(std::uint32_t)));  // NOLINT: an offset
}

void SolidPainter::draw_shadow(const Frames& frames, const Style& style, const Proportions& p, const Sight& sight) {
    const double half = 1.15 * std::max(style.whole_blades ? p.blade_end : p.stub_end, 3 * p.ring);
    const ShadowPlan plan{static_cast<float>(p.ground), static_cast<float>(half), static_cast<float>(3 * p.ring)};
    maps_.make_shadow(plan_view(casters_, frames, sight.cut), plan, place_of(sight));
    const glm::vec4 tone(style.night ? glm::vec3(0.01F, 0.03F, 0.06F) : glm::vec3(0.27F, 0.24F, 0.21F),
                         style.night ? 0.55F : 0.25F);
    maps_.draw_shadow(plan, sight.view, sight.projection, tone);
}

void SolidPainter::draw_solids(const Frames& frames, const Style& style, const Proportions& p, const Sight& sight) {
    const Clipping clipping(sight.cut.has_value());
    glEnable(GL_CULL_FACE);
    glBindVertexArray(mesh_array_);
    for (std::size_t material = 0; material < washes_.size(); ++material) paint(material, frames, style, p, sight);
    glDisable(GL_CULL_FACE);
    if (style.ambient_occlusion)
        maps_.dim_occluded(sight.projection, static_cast<float>(0.3 * p.ring), place_of(sight));
}

void SolidPainter::paint(std::size_t material, const Frames& frames, const Style& style, const Proportions& p,
                         const Sight& sight) const {
    // Uniforms that a program lacks are at -1, which OpenGL passes over.
    const GLuint program = washes_[material];
    glUseProgram(program);
    set_matrix(program, "view", sight.view);
    set_matrix(program, "projection", sight.projection);
    glUniform1f(glGetUniformLocation(program, "pixel"), sight.pixel);
    glUniform1f(glGetUniformLocation(program, "pitch"),
                static_cast<float>(material == thread ? 0.42 * p.ball : 0.07 * p.ring));
    const GLint frame = glGetUniformLocation(program, "frame"), light = glGetUniformLocation(program, "light"),
                shade = glGetUniformLocation(program, "shade"), hatch = glGetUniformLocation(program, "hatch"),
                cut = glGetUniformLocation(program, "cut");
    for (const Batch& batch : batches_) {
        const Placement* placement = frames.find(batch.frame);
        if (placement == nullptr) continue;
        const Wash colours = wash_of(batch.part, batch.tone, style);
        if (material != (colours.hatch.a > 0 ? trouble : material_of(batch.tone))) continue;
        set_cut(cut, sight, batch.part);
        glUniformMatrix4fv(frame, 1, GL_FALSE, glm::value_ptr(as_matrix(*placement)));
        glUniform3fv(light, 1, glm::value_ptr(colours.light));
        glUniform3fv(shade, 1, glm::value_ptr(colours.shade));
        glUniform4fv(hatch, 1, glm::value_ptr(colours.hatch));
        draw_batch(batch);
    }
}

void SolidPainter::draw_faces(const std::vector<CutFace>& faces, const Style& style, const Sight& sight) {
    // A fan from any point to every line covers the points of the face an odd number of times, all others an even one.
    std::vector<float> numbers;
    std::vector<std::pair<int, int>> ranges;
    for (const CutFace& face : faces) {
        const Vec3 base = face.lines.front().a;
        ranges.emplace_back(static_cast<int>(numbers.size() / 3), static_cast<int>(3 * face.lines.size()));
        for (const CutLine& line : face.lines) {
            for (const Vec3* p : {&base, &line.a, &line.b}) {
                for (int k = 0; k < 3; ++k) numbers.push_back(static_cast<float>((*p)[k]));
            }
        }
    }
    glBindVertexArray(face_array_);
    glBindBuffer(GL_ARRAY_BUFFER, face_points_);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(numbers.size() * sizeof(float)), numbers.data(),
                 GL_STREAM_DRAW);
    const GLuint program = face_program_;
    glUseProgram(program);
    set_matrix(program, "view", sight.view);
    set_matrix(program, "projection", sight.projection);
    glUniform1f(glGetUniformLocation(program, "pixel"), sight.pixel);
    glUniform1f(glGetUniformLocation(program, "nearer"), 1.2F * sight.nearer);
    const Sheet& colours = sheet(style.night);
    glEnable(GL_STENCIL_TEST);
    glDepthFunc(GL_LEQUAL);
    for (std::size_t i = 0; i < faces.size(); ++i) {
        const auto [first, count] = ranges[i];
        glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
        glDepthMask(GL_FALSE);
        glDisable(GL_DEPTH_TEST);
        glStencilFunc(GL_ALWAYS, 0, 0xFF);
        glStencilOp(GL_KEEP, GL_INVERT, GL_INVERT);
        glDrawArrays(GL_TRIANGLES, first, count);
        glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
        glDepthMask(GL_TRUE);
        glEnable(GL_DEPTH_TEST);
        glStencilFunc(GL_NOTEQUAL, 0, 0xFF);
        glStencilOp(GL_KEEP, GL_ZERO, GL_ZERO);
        const glm::vec3 tone = glm::mix(wash_of(faces[i].part, faces[i].tone, style).light, colours.paper, 0.35F);
        glUniform3fv(glGetUniformLocation(program, "tone"), 1, glm::value_ptr(tone));
        glUniform3fv(glGetUniformLocation(program, "ink"), 1,
                     glm::value_ptr(faces[i].tone == Tone::bright ? tone : colours.ink));
        glUniform1f(glGetUniformLocation(program, "way"), hatch_way(faces[i].part));
        glDrawArrays(GL_TRIANGLES, first, count);
    }
    glDepthFunc(GL_LESS);
    glDisable(GL_STENCIL_TEST);
}

}  // namespace swashwright::draw
