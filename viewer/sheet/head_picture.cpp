#include "viewer/sheet/head_picture.h"

#include <fmt/format.h>

#include <algorithm>

#include "kinematics/head/ball_places.h"

#include "viewer/draw/base/palette.h"
#include "viewer/draw/base/proportions.h"
#include "viewer/draw/gl/drawing.h"
#include "viewer/draw/gl/offscreen.h"
#include "viewer/draw/picture/picture.h"

namespace swashwright::sheet {
namespace {

constexpr int width = 1500, height = 900;  // 220 dots an inch on the page: plenty for a poor printer

/// The paper's colour becomes white, everything else the grey that is as dark on it (ITU-R BT.709's luma).
void print_grey(draw::Pixels& pixels) {
    const glm::vec3 paper = draw::sheet(false).paper;
    const auto luma = [](float r, float g, float b) { return 0.2126F * r + 0.7152F * g + 0.0722F * b; };
    const float white = luma(paper.r, paper.g, paper.b);
    for (std::size_t i = 0; i + 2 < pixels.rgb.size(); i += 3) {
        const float grey = luma(pixels.rgb[i], pixels.rgb[i + 1], pixels.rgb[i + 2]) / white;
        std::fill_n(pixels.rgb.begin() + static_cast<long>(i), 3,
                    static_cast<std::uint8_t>(std::clamp(grey + 0.5F, 0.0F, 255.0F)));
    }
}

}  // namespace

tl::expected<Picture, std::string> head_picture(const head::Description& description, const head::Pose& pose) {
    auto surface = draw::Offscreen::open(width, height);
    if (!surface) return tl::unexpected(surface.error());
    Picture picture;
    {
        draw::Drawing drawing;  // goes before the context
        drawing.set_head(description);
        const draw::Viewport viewport{0, 0, width, height};
        const draw::Camera camera =
            draw::camera_for(description, draw::View::corner, false, static_cast<double>(width) / height);
        drawing.render(description, pose, camera, {}, viewport, height);
        picture.pixels = {width, height, surface->read()};
        const double out = draw::proportions_of(description).stub_end;
        const double s = head::spin_sign(description.rotor.direction);
        for (int k = 0; const Placement* grip = place_of(pose.skeleton, {head::Role::grip, k}); ++k) {
            // Its z points inwards if the rotor turns clockwise.
            const glm::dvec3 at = camera.project(grip->origin + s * out * grip->turn.col(2), viewport);
            picture.labels.push_back({fmt::format("blade {}", k + 1), std::clamp(at.x, 0.0, double(width)),
                                      std::clamp(at.y, 0.0, double(height))});
        }
    }
    print_grey(picture.pixels);
    return picture;
}

}  // namespace swashwright::sheet
