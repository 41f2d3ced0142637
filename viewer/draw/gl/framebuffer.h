// A framebuffer of the context that is current, for a picture that is made beside what a window shows.
#pragma once

#include <cstdint>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "viewer/draw/gl/gl_objects.h"

namespace swashwright::draw {

/// Several samples a pixel, as many as OpenGL gives, up to four. While it lives the context must stay; when it goes,
/// framebuffer 0 is bound.
class Framebuffer {
public:
    /// Fails with a sentence where it is larger than OpenGL allows.
    static tl::expected<Framebuffer, std::string> make(int width, int height);
    ~Framebuffer();
    Framebuffer(Framebuffer&&) noexcept = default;
    Framebuffer& operator=(Framebuffer&&) noexcept = default;

    void bind() const;
    /// RGB, 8 bits each, rows from the top.
    std::vector<std::uint8_t> read() const;

private:
    struct Target {
        GlFramebuffer frame = new_framebuffer();
        GlRenderbuffer colour = new_renderbuffer(), depth = new_renderbuffer();
    };
    Framebuffer(int width, int height) : width_(width), height_(height) {}
    bool fill(Target& target, int samples) const;

    int width_, height_;
    Target drawn_, resolved_;
};

}  // namespace swashwright::draw
