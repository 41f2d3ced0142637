#include "viewer/panels/picture/picture_target.h"

#include <epoxy/gl.h>

#include <algorithm>
#include <utility>

namespace swashwright::panels {

namespace {

constexpr int most_samples = 4;  // what every driver has; software renderers have no more

}  // namespace

PictureTarget::~PictureTarget() {
    release(plain_);
    release(fine_);
}

void PictureTarget::release(Buffers& buffers) {
    if (!buffers.frame) return;
    glDeleteFramebuffers(1, &buffers.frame);
    glDeleteRenderbuffers(1, &buffers.colour);
    glDeleteRenderbuffers(1, &buffers.depth);
    buffers = {};
}

PictureTarget::Buffers PictureTarget::made(int samples) const {
    Buffers out;
    glGenRenderbuffers(1, &out.colour);
    glBindRenderbuffer(GL_RENDERBUFFER, out.colour);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_RGBA8, width_, height_);
    glGenRenderbuffers(1, &out.depth);
    glBindRenderbuffer(GL_RENDERBUFFER, out.depth);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_DEPTH24_STENCIL8, width_, height_);
    glGenFramebuffers(1, &out.frame);
    glBindFramebuffer(GL_FRAMEBUFFER, out.frame);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, out.colour);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, out.depth);
    if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE) release(out);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    return out;
}

bool PictureTarget::resize(int width, int height) {
    width = std::max(1, width);
    height = std::max(1, height);
    if (width == width_ && height == height_) return false;
    release(plain_);
    release(fine_);
    width_ = width;
    height_ = height;
    plain_ = made(0);
    return true;
}

void PictureTarget::begin(bool fine) {
    if (fine && !fine_.frame) {
        GLint most = 0;
        glGetIntegerv(GL_MAX_SAMPLES, &most);
        if (most > 1) fine_ = made(std::min<int>(most, most_samples));
    }
    drawing_fine_ = fine && fine_.frame != 0;
    glBindFramebuffer(GL_FRAMEBUFFER, drawing_fine_ ? fine_.frame : plain_.frame);
}

void PictureTarget::end() {
    if (std::exchange(drawing_fine_, false)) {
        glBindFramebuffer(GL_READ_FRAMEBUFFER, fine_.frame);
        glBindFramebuffer(GL_DRAW_FRAMEBUFFER, plain_.frame);
        glBlitFramebuffer(0, 0, width_, height_, 0, 0, width_, height_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    }
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void PictureTarget::copy_to(int x, int y) const {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, plain_.frame);
    glBlitFramebuffer(0, 0, width_, height_, x, y, x + width_, y + height_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, 0);
}

}  // namespace swashwright::panels
