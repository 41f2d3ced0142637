// The picture of the head, drawn off-screen and only when something in it has changed.
#pragma once

#include <vector>

#include "viewer/draw/drawing.h"
#include "viewer/panels/picture_target.h"

namespace swashwright::panels {

struct State;

class Stage {
public:
    /// Draws what the state shows, `width` x `height` pixels, if that differs from what was drawn last.
    void draw(const State& state, int width, int height);
    /// Copies the picture into the bound framebuffer, its lower left corner at x, y.
    void copy_to(int x, int y) const { target_.copy_to(x, y); }
    /// Turns a click into the part under it, and lights that. Pixels of the picture, as `scale` pixels for each unit of
    /// window coordinates.
    void take_click(State& state, float scale) const;

private:
    draw::Drawing drawing_;
    PictureTarget target_;
    std::vector<double> key_, next_key_;  // everything that the picture depends on
    std::vector<double> head_key_;        // which head the meshes were made for
    bool stale_ = true;
};

}  // namespace swashwright::panels
