// A finished picture of a head, made without a window: drawing, overlay and a title strip.
#pragma once

#include <memory>
#include <string>
#include <tl/expected.hpp>

#include "viewer/draw/overlay/overlay.h"
#include "viewer/draw/picture/png.h"

namespace swashwright::draw {

/// Along the link that is touched; `side` is from the left, `back` from the tail.
enum class View { corner, front, side, top, along, back, right, below };

struct PictureOrder {
    int width = 1280, height = 800;  // pixels
    View view = View::corner;
    std::optional<Camera> camera = {};  // in place of the view
    Style style;
    OverlayWords words;
    bool names = false;               // of every part in sight, in the margins
    std::string title, note;          // in the strip at the foot; long notes are cut at a word
    std::string pose;                 // the sticks or horns, in words, right of the title
    std::optional<float> scale = {};  // of words and their lines, 1 = 100 %; left out: as the size wants it
};

/// The camera from which a head fills a picture. `along` needs a pose and is as `corner` here.
Camera camera_for(const head::Description& description, View view, bool whole_blades, double aspect);
/// Where the eye looks straight down a link from its upper end, or from its lower one, so that the rod is a circle.
/// None if the part is no link of this pose.
std::optional<Camera> camera_along(const Part& link, const head::Description& description, const head::Pose& pose,
                                   double aspect, bool from_below = false);
/// Where pictures of one head are drawn, one after another. One at a time in a thread.
class Easel {
public:
    /// For pictures of this size. Fails with a sentence where there is no OpenGL.
    static tl::expected<Easel, std::string> open(const head::Description& description, int width, int height);
    ~Easel();
    Easel(Easel&&) noexcept;
    Easel& operator=(Easel&&) noexcept;

    /// `order` must be of the easel's size.
    Pixels draw(const head::Pose& pose, const PictureOrder& order);

private:
    struct Impl;
    explicit Easel(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

/// One picture by the OpenGL context that is current, whose framebuffer is 0 afterwards; the strip is below the size
/// that is ordered. Fails with a sentence where it is larger than OpenGL allows.
tl::expected<Pixels, std::string> picture_here(const head::Description& description, const head::Pose& pose,
                                               const PictureOrder& order);
/// One picture. Fails with a sentence where there is no OpenGL.
tl::expected<Pixels, std::string> make_picture(const head::Description& description, const head::Pose& pose,
                                               const PictureOrder& order);

}  // namespace swashwright::draw
