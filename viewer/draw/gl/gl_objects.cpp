#include "viewer/draw/gl/gl_objects.h"

#include <fmt/format.h>

#include <array>
#include <cstdio>
#include <glm/gtc/type_ptr.hpp>
#include <string_view>

namespace swashwright::draw {
namespace {

constexpr const char *opening = "#version 330 core\n",
                     *es_opening = "#version 300 es\nprecision highp float;\nprecision highp sampler2D;\n";

GLuint compiled(GLenum kind, const std::string& body) {
    const GLuint shader = glCreateShader(kind);
    const std::string text = (is_es() ? es_opening : opening) + body;
    const char* start = text.c_str();
    glShaderSource(shader, 1, &start, nullptr);
    glCompileShader(shader);
    GLint good = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &good);
    if (good == GL_FALSE) {
        std::array<char, 2048> log{};
        glGetShaderInfoLog(shader, static_cast<GLsizei>(log.size()), nullptr, log.data());
        fmt::print(stderr, "swashwright: the graphics driver refuses a shader: {}\n", log.data());
    }
    return shader;
}

}  // namespace

bool is_es() {
    const auto* version = reinterpret_cast<const char*>(glGetString(GL_VERSION));
    return version != nullptr && std::string_view(version).starts_with("OpenGL ES");
}

GlProgram new_program(const std::string& vertex_text, const std::string& fragment_text) {
    GlProgram program(glCreateProgram());
    for (const GLuint shader : {compiled(GL_VERTEX_SHADER, vertex_text), compiled(GL_FRAGMENT_SHADER, fragment_text)}) {
        glAttachShader(program, shader);
        glDeleteShader(shader);  // kept alive by the program
    }
    glLinkProgram(program);
    return program;
}

void set_matrix(GLuint program, const char* name, const glm::mat4& value) {
    glUniformMatrix4fv(glGetUniformLocation(program, name), 1, GL_FALSE, glm::value_ptr(value));
}

}  // namespace swashwright::draw
