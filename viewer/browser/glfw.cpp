// What of GLFW and OpenGL a page does by itself.
#include <GLES3/gl3.h>
#include <GLFW/glfw3.h>
#include <emscripten.h>

EM_JS(double, page_pixel_ratio, (), { return window.devicePixelRatio || 1; });

extern "C" {

int glfwGetError(const char** words) {
    if (words != nullptr) *words = "this browser has no WebGL 2, or it is switched off";
    return 0;
}

/// The canvas has the screen's own pixels, so all of its scale is the content's.
void glfwGetWindowContentScale(GLFWwindow*, float* x, float* y) {
    const auto ratio = static_cast<float>(page_pixel_ratio());
    if (x != nullptr) *x = ratio;
    if (y != nullptr) *y = ratio;
}

GLFWwindowcontentscalefun glfwSetWindowContentScaleCallback(GLFWwindow*, GLFWwindowcontentscalefun) {
    return nullptr;  // the size changes with it
}

/// The page's size is the browser's.
void glfwSetWindowSize(GLFWwindow*, int, int) {}

void glfwGetMonitorWorkarea(GLFWmonitor*, int* x, int* y, int* width, int* height) {
    for (int* number : {x, y, width, height})
        if (number != nullptr) *number = 0;
}

/// In place of glGetIntegerv in Dear ImGui's painter, which puts things back as it found them: a page waits for all
/// that was drawn before it learns how they are. Nothing here counts on more than this.
void page_state_at_rest(GLenum what, GLint* out) {
    switch (what) {
        case GL_MAJOR_VERSION:
            *out = 3;
            break;
        case GL_ACTIVE_TEXTURE:
            *out = GL_TEXTURE0;
            break;
        case GL_BLEND_EQUATION_RGB:
        case GL_BLEND_EQUATION_ALPHA:
            *out = GL_FUNC_ADD;
            break;
        case GL_BLEND_SRC_RGB:
        case GL_BLEND_SRC_ALPHA:
            *out = GL_ONE;
            break;
        case GL_VIEWPORT:
        case GL_SCISSOR_BOX:
            out[0] = out[1] = out[2] = out[3] = 0;
            break;
        default:  // names of nothing, and GL_ZERO
            *out = 0;
    }
}
}
