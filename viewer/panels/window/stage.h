// The picture of the head, drawn off-screen and only when something in it has changed.
#pragma once

#include <imgui.h>

#include <optional>
#include <vector>

#include "viewer/draw/gl/drawing.h"
#include "viewer/panels/picture/picture_target.h"

namespace swashwright::panels {

struct State;

class Stage {
public:
    /// Draws what the state shows, `width` x `height` pixels, if that differs from what was drawn last, and notes in it
    /// what is in sight and what the pointer stands on.
    void draw(State& state, int width, int height);
    /// Copies the picture into the bound framebuffer, its lower left corner at x, y.
    void copy_to(int x, int y) const { target_.copy_to(x, y); }
    /// Turns a click into the part under it, and lights that. Pixels of the picture, as `scale` pixels for each unit of
    /// window coordinates.
    void take_click(State& state, float scale) const;

private:
    bool draw_anew(const State& state, int width, int height);  // false if nothing differs
    void look(State& state, bool drawn_anew);

    draw::Drawing drawing_;
    PictureTarget target_;
    std::vector<double> key_, next_key_;  // everything that the picture depends on
    std::vector<double> head_key_;        // which head the meshes were made for
    bool stale_ = true;
    std::optional<ImVec2> pointer_;  // where it was when a part was looked for last
    bool names_ = false;             // places for names were looked for
};

}  // namespace swashwright::panels
