#include "viewer/draw/gl/framebuffer.h"

#include <fmt/format.h>

#include <algorithm>

namespace swashwright::draw {

tl::expected<Framebuffer, std::string> Framebuffer::make(int width, int height) {
    const auto too_large = [&] {
        glBindFramebuffer(GL_FRAMEBUFFER, 0);
        return tl::unexpected(
            fmt::format("no picture can be drawn: {} x {} pixels are more than OpenGL allows here", width, height));
    };
    GLint most = 0, samples = 0;
    glGetIntegerv(GL_MAX_RENDERBUFFER_SIZE, &most);
    glGetIntegerv(GL_MAX_SAMPLES, &samples);
    if (width < 1 || height < 1 || width > most || height > most) return too_large();
    Framebuffer made(width, height);
    if (!made.fill(made.resolved_, 0) || !made.fill(made.drawn_, std::clamp(samples, 0, 4))) return too_large();
    return made;
}

Framebuffer::~Framebuffer() {
    if (drawn_.frame != 0) glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

bool Framebuffer::fill(Target& target, int samples) const {
    glBindRenderbuffer(GL_RENDERBUFFER, target.colour);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_RGBA8, width_, height_);
    glBindRenderbuffer(GL_RENDERBUFFER, target.depth);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_DEPTH24_STENCIL8, width_, height_);
    glBindFramebuffer(GL_FRAMEBUFFER, target.frame);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, target.colour);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, target.depth);
    return glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE;
}

void Framebuffer::bind() const {
    glBindFramebuffer(GL_FRAMEBUFFER, drawn_.frame);
}

std::vector<std::uint8_t> Framebuffer::read() const {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, drawn_.frame);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, resolved_.frame);
    glBlitFramebuffer(0, 0, width_, height_, 0, 0, width_, height_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    glBindFramebuffer(GL_FRAMEBUFFER, resolved_.frame);
    const auto width = static_cast<std::size_t>(width_), height = static_cast<std::size_t>(height_);
    std::vector<std::uint8_t> all(4 * width * height), out(3 * width * height);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, width_, height_, GL_RGBA, GL_UNSIGNED_BYTE, all.data());  // what every OpenGL gives
    for (std::size_t y = 0; y < height; ++y)                                     // its rows run from below
        for (std::size_t x = 0; x < width; ++x)
            std::copy_n(&all[4 * ((height - 1 - y) * width + x)], 3, &out[3 * (y * width + x)]);
    return out;
}

}  // namespace swashwright::draw
