// An off-screen picture that is drawn once and copied into the window for as long as it holds. One sample a pixel:
// the drawing smooths its own lines.
#pragma once

namespace swashwright::panels {

class PictureTarget {
public:
    PictureTarget() = default;
    ~PictureTarget();
    PictureTarget(const PictureTarget&) = delete;
    PictureTarget& operator=(const PictureTarget&) = delete;

    /// True if the size changed, so that the picture must be drawn anew. Pixels; at least 1.
    bool resize(int width, int height);
    /// Binds the target for drawing.
    void begin() const;
    /// Binds the window's framebuffer again.
    void end() const;
    /// Copies the picture into the bound framebuffer, its lower left corner at x, y.
    void copy_to(int x, int y) const;
    int width() const { return width_; }
    int height() const { return height_; }

private:
    void release();

    int width_ = 0, height_ = 0;
    unsigned frame_ = 0, colour_ = 0, depth_ = 0;
};

}  // namespace swashwright::panels
