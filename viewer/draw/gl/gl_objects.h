// OpenGL names that delete themselves, and shader programs. Each needs the context that was current when it was made.
#pragma once

#include <epoxy/gl.h>

#include <glm/glm.hpp>
#include <string>
#include <utility>

namespace swashwright::draw {

/// Owns one OpenGL name; `release` gives it back.
template <auto release>
class GlName {
public:
    GlName() = default;
    explicit GlName(GLuint name) : name_(name) {}
    ~GlName() {
        if (name_ != 0) release(name_);
    }
    GlName(GlName&& other) noexcept : name_(std::exchange(other.name_, 0)) {}
    GlName& operator=(GlName&& other) noexcept {
        std::swap(name_, other.name_);
        return *this;
    }
    operator GLuint() const { return name_; }  // NOLINT: stands for the name wherever OpenGL wants it

private:
    GLuint name_ = 0;
};

inline void delete_buffer(GLuint name) {
    glDeleteBuffers(1, &name);
}
inline void delete_array(GLuint name) {
    glDeleteVertexArrays(1, &name);
}
inline void delete_texture(GLuint name) {
    glDeleteTextures(1, &name);
}
inline void delete_renderbuffer(GLuint name) {
    glDeleteRenderbuffers(1, &name);
}
inline void delete_framebuffer(GLuint name) {
    glDeleteFramebuffers(1, &name);
}
inline void delete_program(GLuint name) {
    glDeleteProgram(name);
}

using GlBuffer = GlName<delete_buffer>;
using GlArray = GlName<delete_array>;
using GlTexture = GlName<delete_texture>;
using GlRenderbuffer = GlName<delete_renderbuffer>;
using GlFramebuffer = GlName<delete_framebuffer>;
using GlProgram = GlName<delete_program>;

template <class Name>
Name generated(void (*generate)(GLsizei, GLuint*)) {
    GLuint name = 0;
    generate(1, &name);
    return Name(name);
}
inline GlBuffer new_buffer() {
    return generated<GlBuffer>(glGenBuffers);
}
inline GlArray new_array() {
    return generated<GlArray>(glGenVertexArrays);
}
inline GlTexture new_texture() {
    return generated<GlTexture>(glGenTextures);
}
inline GlRenderbuffer new_renderbuffer() {
    return generated<GlRenderbuffer>(glGenRenderbuffers);
}
inline GlFramebuffer new_framebuffer() {
    return generated<GlFramebuffer>(glGenFramebuffers);
}

/// The current context is one of OpenGL ES, which has no clip distances.
bool is_es();

/// Compiles and links, texts without a version; where the driver refuses, its log goes to standard error and nothing is
/// drawn with the program.
GlProgram new_program(const std::string& vertex_text, const std::string& fragment_text);

/// Of the program in use; a name that it lacks is passed over.
void set_matrix(GLuint program, const char* name, const glm::mat4& value);

}  // namespace swashwright::draw
