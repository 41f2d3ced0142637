#include "viewer/draw/gl/offscreen.h"

#include <epoxy/egl.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "viewer/draw/gl/gl_objects.h"

namespace swashwright::draw {

struct Offscreen::Impl {
    EGLDisplay display = EGL_NO_DISPLAY;
    EGLContext context = EGL_NO_CONTEXT;
    int width = 0, height = 0;
    struct Target {
        GlFramebuffer frame = new_framebuffer();
        GlRenderbuffer colour = new_renderbuffer(), depth = new_renderbuffer();
    };
    std::unique_ptr<Target> target, resolved;  // several samples a pixel; one

    Impl() = default;
    Impl(const Impl&) = delete;
    Impl& operator=(const Impl&) = delete;
    ~Impl() {
        target.reset();
        resolved.reset();
        if (display == EGL_NO_DISPLAY) return;
        eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
        if (context != EGL_NO_CONTEXT) eglDestroyContext(display, context);
        eglTerminate(display);
    }

    bool open_context() {
        if (!epoxy_has_egl()) return false;
        const char* extensions = eglQueryString(EGL_NO_DISPLAY, EGL_EXTENSIONS);
        if (extensions == nullptr || !epoxy_extension_in_string(extensions, "EGL_EXT_platform_base") ||
            !epoxy_extension_in_string(extensions, "EGL_MESA_platform_surfaceless")) {
            return false;
        }
        display = eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, nullptr, nullptr);
        if (display == EGL_NO_DISPLAY || eglInitialize(display, nullptr, nullptr) == EGL_FALSE) return false;
        eglBindAPI(EGL_OPENGL_API);
        constexpr std::array<EGLint, 3> wish{EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_NONE};
        EGLConfig config = nullptr;
        EGLint count = 0;
        eglChooseConfig(display, wish.data(), &config, 1, &count);
        constexpr std::array<EGLint, 7> version{
            EGL_CONTEXT_MAJOR_VERSION,           3,       EGL_CONTEXT_MINOR_VERSION, 3, EGL_CONTEXT_OPENGL_PROFILE_MASK,
            EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE};
        context = eglCreateContext(display, config, EGL_NO_CONTEXT, version.data());
        return context != EGL_NO_CONTEXT &&
               eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, context) == EGL_TRUE;
    }

    std::unique_ptr<Target> make_target(int samples) const {
        auto made = std::make_unique<Target>();
        glBindRenderbuffer(GL_RENDERBUFFER, made->colour);
        glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_RGBA8, width, height);
        glBindRenderbuffer(GL_RENDERBUFFER, made->depth);
        glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_DEPTH24_STENCIL8, width, height);
        glBindFramebuffer(GL_FRAMEBUFFER, made->frame);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, made->colour);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, made->depth);
        if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE) return nullptr;
        return made;
    }

    bool open_target() {
        GLint most = 0;
        glGetIntegerv(GL_MAX_SAMPLES, &most);
        resolved = make_target(0);
        target = make_target(std::clamp(most, 0, 4));  // left bound
        return target && resolved;
    }
};

Offscreen::Offscreen(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Offscreen::~Offscreen() = default;
Offscreen::Offscreen(Offscreen&&) noexcept = default;
Offscreen& Offscreen::operator=(Offscreen&&) noexcept = default;

tl::expected<Offscreen, std::string> Offscreen::open(int width, int height) {
    auto impl = std::make_unique<Impl>();
    impl->width = std::max(1, width);
    impl->height = std::max(1, height);
    if (!impl->open_context()) {
        return tl::unexpected(
            std::string("no picture can be drawn: OpenGL 3.3 without a window is not to be had here; install Mesa's "
                        "EGL (on Debian: libegl1 and libgl1-mesa-dri)"));
    }
    if (!impl->open_target()) {
        return tl::unexpected(fmt::format(
            "no picture can be drawn: {} x {} pixels are more than OpenGL allows here; ask for a smaller size",
            impl->width, impl->height));
    }
    return Offscreen(std::move(impl));
}

int Offscreen::width() const {
    return impl_->width;
}
int Offscreen::height() const {
    return impl_->height;
}

std::vector<std::uint8_t> Offscreen::read() const {
    const auto row = static_cast<std::size_t>(impl_->width) * 3, rows = static_cast<std::size_t>(impl_->height);
    std::vector<std::uint8_t> pixels(row * rows);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, impl_->target->frame);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, impl_->resolved->frame);
    glBlitFramebuffer(0, 0, impl_->width, impl_->height, 0, 0, impl_->width, impl_->height, GL_COLOR_BUFFER_BIT,
                      GL_NEAREST);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, impl_->resolved->frame);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, impl_->width, impl_->height, GL_RGB, GL_UNSIGNED_BYTE, pixels.data());
    glBindFramebuffer(GL_FRAMEBUFFER, impl_->target->frame);
    for (std::size_t y = 0; y < rows / 2; ++y) {  // OpenGL's rows run from below
        std::swap_ranges(pixels.begin() + static_cast<std::ptrdiff_t>(y * row),
                         pixels.begin() + static_cast<std::ptrdiff_t>((y + 1) * row),
                         pixels.begin() + static_cast<std::ptrdiff_t>((rows - 1 - y) * row));
    }
    return pixels;
}

}  // namespace swashwright::draw
