// The picture in the window: plain while things move, with smoother edges at rest.
#include "viewer/panels/picture/picture_target.h"

#include <epoxy/gl.h>
#include <gtest/gtest.h>

#include <cstdint>
#include <vector>

#include "tests/viewer/draw_heads.h"
#include "viewer/draw/gl/drawing.h"
#include "viewer/draw/gl/gl_objects.h"
#include "viewer/draw/gl/offscreen.h"
#include "viewer/draw/picture/picture.h"

namespace swashwright::panels {
namespace {

constexpr int width = 480, height = 360;

std::vector<std::uint8_t> pixels_of(const PictureTarget& target) {
    const draw::GlFramebuffer frame = draw::new_framebuffer();
    const draw::GlRenderbuffer colour = draw::new_renderbuffer();
    glBindRenderbuffer(GL_RENDERBUFFER, colour);
    glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, width, height);
    glBindFramebuffer(GL_FRAMEBUFFER, frame);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour);
    target.copy_to(0, 0);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, frame);
    std::vector<std::uint8_t> out(static_cast<std::size_t>(4 * width * height));
    glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE, out.data());
    return out;
}

/// How hard edges are: large from pixel to pixel where there are steps.
double hardness(const std::vector<std::uint8_t>& pixels) {
    double sum = 0;
    for (std::size_t i = 4; i < pixels.size(); i += 4) {
        const double step = static_cast<double>(pixels[i]) - pixels[i - 4];
        sum += step * step;
    }
    return sum;
}

TEST(PictureTarget, HasSmootherEdgesAtRestAndIsTheSamePictureEveryTime) {
    auto surface = draw::Offscreen::open(16, 16);
    if (!surface) GTEST_SKIP() << surface.error();
    const head::Description d = draw::demo("two_blade_600");
    const head::Pose pose = draw::posed(d, {0.3, 0.2, 0}, 30);
    const draw::Camera camera = draw::camera_for(d, draw::View::corner, false, static_cast<double>(width) / height);
    const draw::Style style{.touched = {}, .trouble = {}};
    draw::Drawing drawing;
    drawing.set_head(d);
    PictureTarget target;
    EXPECT_TRUE(target.resize(width, height));
    EXPECT_FALSE(target.resize(width, height));
    const auto drawn = [&](bool fine) {
        target.begin(fine);
        drawing.render(d, pose, camera, style, {0, 0, width, height}, height);
        target.end();
        return pixels_of(target);
    };
    const auto plain = drawn(false), fine = drawn(true);
    EXPECT_NE(plain, fine);
    EXPECT_LT(hardness(fine), 0.97 * hardness(plain));
    EXPECT_EQ(drawn(false), plain);
    EXPECT_EQ(drawn(true), fine);
    EXPECT_EQ(glGetError(), static_cast<GLenum>(GL_NO_ERROR));
}

}  // namespace
}  // namespace swashwright::panels
