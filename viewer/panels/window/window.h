// The operating system's window with OpenGL and ImGui in it.
#pragma once

#include <string>
#include <tl/expected.hpp>

struct GLFWwindow;

namespace swashwright::panels {

/// How much larger than usual the window's monitor wants things drawn, in pixels of the window's own coordinates.
float screen_scale_of(GLFWwindow* window);

class Window {
public:
    /// As large as `width` by `height` on a usual monitor; larger by its scale on a finer one, where there is room.
    /// The error is a sentence that says what is missing and what works without a window.
    static tl::expected<Window, std::string> open(int width, int height, const std::string& scene_path);
    ~Window();
    Window(Window&& other) noexcept;
    Window& operator=(Window&&) = delete;

    GLFWwindow* handle() const { return handle_; }

private:
    explicit Window(GLFWwindow* handle) : handle_(handle) {}
    GLFWwindow* handle_ = nullptr;
};

}  // namespace swashwright::panels
