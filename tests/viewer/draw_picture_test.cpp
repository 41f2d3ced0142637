// Pictures against ones that were looked at and found good. They hold no lettering, because its typeface depends on
// what is installed. Software renderers of other versions place a pixel on an edge differently, so pictures are
// compared by the means of blocks of 16 x 16 pixels, in which single edge pixels all but cancel out.
// To make them anew (and then look at them): SWASHWRIGHT_MAKE_GOLDEN=1 viewer_tests --gtest_filter='Picture.*'
#include "viewer/draw/picture/picture.h"

#include <epoxy/gl.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <optional>
#include <utility>

#include "tests/viewer/draw_heads.h"
#include "viewer/draw/base/palette.h"
#include "viewer/draw/gl/drawing.h"
#include "viewer/draw/gl/offscreen.h"

namespace swashwright::draw {
namespace {

constexpr int width = 640, height = 480, side = 16;

struct Difference {
    double mean;   // of all channels of all pixels, 0 to 255
    double block;  // of the block means, the largest
};

Difference difference(const Pixels& a, const Pixels& b) {
    Difference d{0, 0};
    for (int by = 0; by < a.height; by += side) {
        for (int bx = 0; bx < a.width; bx += side) {
            double sum[3] = {0, 0, 0}, count = 0;
            for (int y = by; y < std::min(by + side, a.height); ++y) {
                for (int x = bx; x < std::min(bx + side, a.width); ++x, ++count) {
                    for (int c = 0; c < 3; ++c) {
                        const auto i = static_cast<std::size_t>(3 * (y * a.width + x) + c);
                        const double by_pixel = static_cast<double>(a.rgb[i]) - b.rgb[i];
                        sum[c] += by_pixel;
                        d.mean += std::abs(by_pixel) / static_cast<double>(a.rgb.size());
                    }
                }
            }
            for (double s : sum) d.block = std::max(d.block, std::abs(s) / count);
        }
    }
    return d;
}

// Drawn with four samples a pixel in place of one, the largest change that a renderer may make, these heads differ by
// up to 0.5 in the mean and 8.6 in a block; with one upper link 0.5 mm longer, by at least 10.6 in a block.
constexpr double mean_limit = 1.0, block_limit = 10.0;

class Picture : public ::testing::Test {
protected:
    static std::optional<Pixels> draw(const head::Description& d, const head::Sticks& sticks, double azimuth_deg,
                                      const Style& style, View view = View::corner) {
        auto surface = Offscreen::open(width, height);
        if (!surface) return std::nullopt;
        Drawing drawing;
        drawing.set_head(d);
        const Camera camera = camera_for(d, view, style.whole_blades, static_cast<double>(width) / height);
        drawing.render(d, posed(d, sticks, azimuth_deg), camera, style, {0, 0, width, height}, height);
        EXPECT_EQ(glGetError(), static_cast<GLenum>(GL_NO_ERROR));
        return Pixels{width, height, surface->read()};
    }
};

#define DRAW_OR_SKIP(name, ...)                                           \
    const auto name##_drawn = draw(__VA_ARGS__);                          \
    if (!name##_drawn) GTEST_SKIP() << "no OpenGL without a window here"; \
    const Pixels& name = *name##_drawn

void expect_golden(const Pixels& drawn, const std::string& name) {
    const std::string path = SWASHWRIGHT_TEST_DATA "/golden/" + name + ".png";
    if (std::getenv("SWASHWRIGHT_MAKE_GOLDEN") != nullptr) {
        std::ofstream(path, std::ios::binary) << *png_bytes(drawn);
        return;
    }
    const auto golden = read_png(path);
    ASSERT_TRUE(golden) << path;
    ASSERT_EQ(golden->width, drawn.width);
    const Difference d = difference(*golden, drawn);
    EXPECT_LT(d.mean, mean_limit) << name;
    EXPECT_LT(d.block, block_limit) << name;
    if (::testing::Test::HasNonfatalFailure())
        std::ofstream(name + ".drawn.png", std::ios::binary) << *png_bytes(drawn);
}

TEST_F(Picture, OfEachDemoHeadAtTwoPosesIsTheOneLookedAt) {
    for (const std::string& name : demos()) {
        const head::Description d = demo(name);
        DRAW_OR_SKIP(day, d, {0.2, 0.4, 0}, 55, {});
        expect_golden(day, name + "_day");
        DRAW_OR_SKIP(night, d, {0.6, 0, -0.5}, 290,
                     {.night = true, .exaggeration = 5, .touched = Part{Role::upper_link, 0}, .trouble = {}});
        expect_golden(night, name + "_night");
    }
}

TEST_F(Picture, ComparisonNoticesALinkOfOtherLengthAndNotItself) {
    head::Description d = demo("two_blade_600");
    DRAW_OR_SKIP(before, d, {}, 100, {});
    d.upper_links[0].error_mm = 1;
    DRAW_OR_SKIP(after, d, {}, 100, {});
    const Difference moved = difference(before, after);
    EXPECT_GT(moved.block, 2 * block_limit);
    DRAW_OR_SKIP(again, demo("two_blade_600"), {}, 100, {});
    EXPECT_EQ(difference(before, again).mean, 0);
}

TEST_F(Picture, TouchedPartIsTheOnlyThingInTheAccentColour) {
    // Vermilion, washed light or dark; the nearest other colour, blade 2's orange, has more green.
    const auto accented = [](const Pixels& p) {
        int count = 0;
        for (std::size_t i = 0; i < p.rgb.size(); i += 3) {
            count += p.rgb[i] > 120 && p.rgb[i] > 1.6 * p.rgb[i + 1] && p.rgb[i + 1] > 1.3 * p.rgb[i + 2];
        }
        return count;
    };
    const head::Description d = demo("small_two_blade_250");
    DRAW_OR_SKIP(plain, d, {}, 40, {});
    EXPECT_EQ(accented(plain), 0);
    DRAW_OR_SKIP(touched, d, {}, 40, {.touched = Part{Role::servo, 2}, .trouble = {}});
    EXPECT_GT(accented(touched), 30);
}

TEST_F(Picture, KeepsToItsViewport) {
    auto surface = Offscreen::open(width, height);
    if (!surface) GTEST_SKIP() << surface.error();
    glClearColor(1, 0, 1, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    const head::Description d = demo("two_blade_600");
    Drawing drawing;
    drawing.set_head(d);
    const Viewport area{100, 50, 300, 200};
    drawing.render(d, posed(d, {}, 0), Camera{}, {.whole_blades = true, .touched = {}, .trouble = {}}, area, height);
    const auto rgb = surface->read();
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            const auto i = static_cast<std::size_t>(3 * (y * width + x));
            const bool outside = rgb[i] == 255 && rgb[i + 1] == 0 && rgb[i + 2] == 255;
            const bool in_area = x >= 100 && x < 400 && y >= 50 && y < 250;
            ASSERT_NE(outside, in_area) << x << ", " << y;
        }
    }
}

TEST_F(Picture, WithLetteringTellsWhatFallsShort) {
    head::Description d = demo("two_blade_600");
    PictureOrder order;
    order.width = width, order.height = height;
    order.title = d.name;
    order.note = "invented";
    const head::Pose pose = posed(d, {}, 30);
    const auto calm = make_picture(d, pose, order);
    if (!calm) GTEST_SKIP() << calm.error();
    order.words.trouble = {{Part{Role::upper_link, 1}, "upper link 2 is 1.30 mm too short to reach"}};
    const auto trouble = make_picture(d, pose, order);
    ASSERT_TRUE(trouble);
    EXPECT_GT(difference(*calm, *trouble).block, 20);
}

TEST_F(Picture, ATallOneKeepsTitleSticksAndEveryBlade) {
    const head::Description d = demo("three_blade_700");
    const head::Pose pose = posed(d, {}, 0);
    PictureOrder order;
    order.width = 400, order.height = 1200;
    order.title = "Three blades, anticlockwise, 700 size, 1";
    order.pose = "collective +0.50, aileron +0.25, elevator -0.25, azimuth 30";
    order.note = "invented";
    const auto drawn = make_picture(d, pose, order);
    if (!drawn) GTEST_SKIP() << drawn.error();
    for (std::string* words : {&order.title, &order.pose}) {
        const char last = std::exchange(words->back(), '8');  // seen only where all of it stands
        const auto other = make_picture(d, pose, order);
        ASSERT_TRUE(other);
        EXPECT_TRUE(drawn->rgb != other->rgb) << *words;
        words->back() = last;
    }
}

TEST(CameraFor, HasEveryBladesEndInThePictureWhateverItsShape) {
    for (const std::string& name : demos())
        for (const auto& [w, h] : {std::pair{400, 1120}, {900, 850}, {1280, 747}, {2000, 500}}) {
            const head::Description d = demo(name);
            const Viewport area{0, 0, w, h};
            const Camera camera = camera_for(d, View::corner, false, static_cast<double>(w) / h);
            const double end = proportions_of(d).stub_end;
            for (int azimuth = 0; azimuth < 360; azimuth += 10) {
                const Vec3 out(std::cos(azimuth * degree), std::sin(azimuth * degree), 0);
                const glm::dvec3 at = camera.project(end * out + Vec3(0, 0, d.rotor.hub_height_mm), area);
                EXPECT_TRUE(at.x > 0 && at.x < w && at.y > 0 && at.y < h) << name << ", " << w << " x " << h;
            }
        }
}

TEST(Overlay, KeepsItsWordsInsideThePicture) {
    ImGui::CreateContext();
    ImGui::GetIO().DisplaySize = ImVec2(width, height);
    ImGui::GetIO().IniFilename = nullptr;
    unsigned char* texture = nullptr;
    int w = 0, h = 0;
    ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&texture, &w, &h);
    ImGui::NewFrame();
    const Viewport area{40, 30, 500, 380};
    for (int blades : {2, 6}) {
        const head::Description d = with_blades(blades, head::Direction::anticlockwise);
        const head::Pose pose = posed(d, {1, 1, 1}, 10);
        OverlayWords words;
        words.trouble = {{Part{Role::lower_link, 0}, "lower link 1 is 2.00 mm too short to reach"}};
        ImDrawList& list = *ImGui::GetBackgroundDrawList();
        const int before = list.VtxBuffer.Size;
        draw_overlay(list, d, pose, camera_for(d, View::corner, false, 500.0 / 380),
                     {.touched = Part{Role::upper_link, 0}, .trouble = {}}, area, words, 1);
        EXPECT_GT(list.VtxBuffer.Size, before + 200);
        for (const ImDrawCmd& command : list.CmdBuffer) {
            if (command.ElemCount == 0) continue;
            EXPECT_GE(command.ClipRect.x, 40);
            EXPECT_LE(command.ClipRect.w, 410);
        }
    }
    ImGui::EndFrame();
    ImGui::DestroyContext();
}

TEST(Palette, GivesEachBladeItsOwnPatternToo) {
    for (int k = 0; k < 6; ++k) {
        for (int j = 0; j < k; ++j) {
            EXPECT_FALSE(std::ranges::equal(blade_dash(k), blade_dash(j)));
            EXPECT_GT(glm::distance(blade_hue(k, false), blade_hue(j, false)), 0.2F);
        }
        // WCAG 2.1, success criterion 1.4.11: graphics need a contrast of 3 to 1 with what they stand on.
        for (bool night : {false, true}) {
            const auto luminance = [](const glm::vec3& c) {
                const auto linear = [](float x) {
                    return x <= 0.04045F ? x / 12.92F : std::pow((x + 0.055F) / 1.055F, 2.4F);
                };
                return 0.2126F * linear(c.r) + 0.7152F * linear(c.g) + 0.0722F * linear(c.b);
            };
            const float a = luminance(blade_hue(k, night, true)), b = luminance(sheet(night).paper);
            EXPECT_GT((std::max(a, b) + 0.05F) / (std::min(a, b) + 0.05F), 3.0F) << k << (night ? " night" : " day");
        }
    }
}

}  // namespace
}  // namespace swashwright::draw
