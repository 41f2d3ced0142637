#include "viewer/panels/window/window.h"

#include <epoxy/gl.h>
// After epoxy.
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <system_error>
#include <utility>

#include "viewer/draw/gl/gl_objects.h"

namespace swashwright::panels {

namespace {

std::string glfw_reason() {
    const char* reason = nullptr;
    glfwGetError(&reason);
    return reason ? reason : "unknown reason";
}

/// This program, ready to be copied into a shell.
std::string own_name() {
    std::error_code none;
    const std::filesystem::path self = std::filesystem::read_symlink("/proc/self/exe", none);
    return none ? "swashwright" : self.string();
}

std::string without_window(const std::string& reason, const std::string& scene_path) {
    return fmt::format("no window can be opened here: {}. A picture needs none:\n  {} picture {} --out head.png",
                       reason, own_name(), scene_path);
}

void suit_to_monitor(GLFWwindow* window, int width, int height) {
    const float scale = std::round(4 * screen_scale_of(window)) / 4;
    if (scale <= 1) return;
    int x = 0, y = 0, widest = 0, highest = 0;
    if (GLFWmonitor* monitor = glfwGetPrimaryMonitor()) glfwGetMonitorWorkarea(monitor, &x, &y, &widest, &highest);
    const auto scaled = [&](int size, int most) {
        const int wanted = static_cast<int>(std::lround(scale * static_cast<float>(size)));
        return most > 0 ? std::max(size, std::min(wanted, most)) : wanted;
    };
    glfwSetWindowSize(window, scaled(width, widest), scaled(height, highest));
}

}  // namespace

float screen_scale_of(GLFWwindow* window) {
    float content = 1;
    glfwGetWindowContentScale(window, &content, nullptr);
    int framebuffer = 0, width = 0;
    glfwGetFramebufferSize(window, &framebuffer, nullptr);
    glfwGetWindowSize(window, &width, nullptr);
    // Where the system scales the window itself, that part is done already.
    if (framebuffer > 0 && width > 0) content *= static_cast<float>(width) / static_cast<float>(framebuffer);
    return content > 0 ? content : 1;
}

tl::expected<Window, std::string> Window::open(int width, int height, const std::string& scene_path) {
    if (!glfwInit()) return tl::unexpected(without_window(glfw_reason(), scene_path));
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
    GLFWwindow* handle = glfwCreateWindow(width, height, "Swashwright", nullptr, nullptr);
    if (!handle) {
        const std::string reason = glfw_reason();
        glfwTerminate();
        return tl::unexpected(without_window(reason, scene_path));
    }
    glfwSetWindowSizeLimits(handle, 960, 640, GLFW_DONT_CARE, GLFW_DONT_CARE);
    suit_to_monitor(handle, width, height);
    glfwMakeContextCurrent(handle);

    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui_ImplGlfw_InitForOpenGL(handle, /*install_callbacks=*/false);
    ImGui_ImplOpenGL3_Init(draw::is_es() ? "#version 300 es" : "#version 330 core");
    return Window(handle);
}

Window::Window(Window&& other) noexcept : handle_(std::exchange(other.handle_, nullptr)) {}

Window::~Window() {
    if (!handle_) return;
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    ImGui::DestroyContext();
    glfwDestroyWindow(handle_);
    glfwTerminate();
}

}  // namespace swashwright::panels
