// An off-screen picture that is drawn once and copied into the window for as long as it holds. While things move it has
// one sample a pixel, where the drawing smooths its own lines; at rest several, which smooths edges too.
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
    /// Binds the target for drawing; `fine`: with several samples a pixel, if the driver has them.
    void begin(bool fine = false);
    /// Binds the window's framebuffer again; what was drawn is what is copied from now on.
    void end();
    /// Copies the picture into the bound framebuffer, its lower left corner at x, y.
    void copy_to(int x, int y) const;
    int width() const { return width_; }
    int height() const { return height_; }

private:
    struct Buffers {
        unsigned frame = 0, colour = 0, depth = 0;
    };
    Buffers made(int samples) const;
    static void release(Buffers& buffers);

    int width_ = 0, height_ = 0;
    Buffers plain_, fine_;  // one sample a pixel, which is what is copied; several
    bool drawing_fine_ = false;
};

}  // namespace swashwright::panels
