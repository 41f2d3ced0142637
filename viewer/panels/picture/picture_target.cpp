#include "viewer/panels/picture/picture_target.h"

#include <epoxy/gl.h>

#include <algorithm>

namespace swashwright::panels {

PictureTarget::~PictureTarget() {
    release();
}

void PictureTarget::release() {
    if (!frame_) return;
    glDeleteFramebuffers(1, &frame_);
    glDeleteRenderbuffers(1, &colour_);
    glDeleteRenderbuffers(1, &depth_);
}

bool PictureTarget::resize(int width, int height) {
    width = std::max(1, width);
    height = std::max(1, height);
    if (width == width_ && height == height_) return false;
    release();
    width_ = width;
    height_ = height;
    glGenRenderbuffers(1, &colour_);
    glBindRenderbuffer(GL_RENDERBUFFER, colour_);
    glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, width, height);
    glGenRenderbuffers(1, &depth_);
    glBindRenderbuffer(GL_RENDERBUFFER, depth_);
    glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH24_STENCIL8, width, height);
    glGenFramebuffers(1, &frame_);
    glBindFramebuffer(GL_FRAMEBUFFER, frame_);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour_);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, depth_);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    return true;
}

void PictureTarget::begin() const {
    glBindFramebuffer(GL_FRAMEBUFFER, frame_);
}

void PictureTarget::end() const {
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void PictureTarget::copy_to(int x, int y) const {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, frame_);
    glBlitFramebuffer(0, 0, width_, height_, x, y, x + width_, y + height_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, 0);
}

}  // namespace swashwright::panels
