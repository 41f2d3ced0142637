// The operating system's window with OpenGL and ImGui in it.
#pragma once

#include <string>
#include <tl/expected.hpp>

struct GLFWwindow;

namespace swashwright::panels {

class Window {
public:
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
