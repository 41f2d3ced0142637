// A framebuffer with no window: EGL's surfaceless platform, which needs neither a screen nor a graphics device.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace swashwright::draw {

/// Owns an OpenGL 3.3 core context and a framebuffer of fixed size, both current and bound while it lives.
/// One at a time in a thread.
class Offscreen {
public:
    /// Fails with a sentence where no such context can be had.
    static tl::expected<Offscreen, std::string> open(int width, int height);
    ~Offscreen();
    Offscreen(Offscreen&&) noexcept;
    Offscreen& operator=(Offscreen&&) noexcept;

    int width() const;
    int height() const;
    /// RGB, 8 bits each, rows from the top.
    std::vector<std::uint8_t> read() const;

private:
    struct Impl;
    explicit Offscreen(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

}  // namespace swashwright::draw
