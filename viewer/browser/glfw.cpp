// What of GLFW a page does by itself.
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
}
