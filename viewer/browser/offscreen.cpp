// A picture aside: a framebuffer of the page's own context. A worker has none.
#include "viewer/draw/gl/offscreen.h"

#include <emscripten/html5.h>

#include <algorithm>

#include "viewer/draw/gl/gl_objects.h"

namespace swashwright::draw {

struct Offscreen::Impl {
    int width = 0, height = 0;
    GlRenderbuffer colour = new_renderbuffer(), depth = new_renderbuffer();
    GlFramebuffer frame = new_framebuffer();

    Impl(int wide, int high) : width(std::max(1, wide)), height(std::max(1, high)) {
        glBindRenderbuffer(GL_RENDERBUFFER, colour);
        glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, width, height);
        glBindRenderbuffer(GL_RENDERBUFFER, depth);
        glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH24_STENCIL8, width, height);
        glBindFramebuffer(GL_FRAMEBUFFER, frame);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, depth);
    }
    ~Impl() { glBindFramebuffer(GL_FRAMEBUFFER, 0); }
    Impl(const Impl&) = delete;
    Impl& operator=(const Impl&) = delete;
};

Offscreen::Offscreen(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Offscreen::~Offscreen() = default;
Offscreen::Offscreen(Offscreen&&) noexcept = default;
Offscreen& Offscreen::operator=(Offscreen&&) noexcept = default;

tl::expected<Offscreen, std::string> Offscreen::open(int width, int height) {
    if (emscripten_webgl_get_current_context() == 0)
        return tl::unexpected(std::string("no picture can be drawn: there is no WebGL here"));
    auto impl = std::make_unique<Impl>(width, height);
    if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE)
        return tl::unexpected(std::string("no picture can be drawn: it is larger than WebGL allows here"));
    return Offscreen(std::move(impl));
}

int Offscreen::width() const {
    return impl_->width;
}
int Offscreen::height() const {
    return impl_->height;
}

std::vector<std::uint8_t> Offscreen::read() const {
    const auto width = static_cast<std::size_t>(impl_->width), height = static_cast<std::size_t>(impl_->height);
    std::vector<std::uint8_t> all(4 * width * height), out(3 * width * height);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, impl_->width, impl_->height, GL_RGBA, GL_UNSIGNED_BYTE, all.data());
    for (std::size_t y = 0; y < height; ++y)  // OpenGL's rows run from below
        for (std::size_t x = 0; x < width; ++x)
            std::copy_n(&all[4 * ((height - 1 - y) * width + x)], 3, &out[3 * (y * width + x)]);
    return out;
}

}  // namespace swashwright::draw
