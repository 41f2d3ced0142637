// The picture of the head, drawn off-screen and only when something in it has changed, and what is seen in it.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <optional>

#include "viewer/draw/gl/drawing.h"
#include "viewer/panels/bench/readout.h"
#include "viewer/panels/picture/picture_target.h"

namespace swashwright::panels {

struct State;

class Stage {
public:
    /// Turns a click into the part under it; draws what the state shows, `width` x `height` pixels, if that differs
    /// from what was drawn last; notes in the state what is in sight and what the pointer stands on. `scale`: pixels
    /// for each unit of window coordinates.
    void draw(State& state, int width, int height, float scale);
    /// Copies the picture into the bound framebuffer, its lower left corner at x, y.
    void copy_to(int x, int y) const { target_.copy_to(x, y); }

private:
    /// Everything that the picture depends on.
    struct Input {
        std::uint64_t head = 0;  // revision of the document of which the head that is shown was taken
        head::Sticks sticks;     // for which its pose was solved
        double azimuth_deg = 0;  // likewise
        Hands hands;             // likewise
        draw::Camera camera;
        draw::Style style;

        bool operator==(const Input&) const = default;
    };
    bool draw_anew(State& state);  // false if nothing differs
    void sharpen(State& state);    // once nothing moves
    void render(const State& state, bool fine);
    void take_click(State& state, float scale) const;
    void find_in_sight(State& state, bool drawn_anew);
    void find_pointed_at(State& state, bool drawn_anew, float scale);
    draw::Viewport whole() const { return {0, 0, target_.width(), target_.height()}; }

    draw::Drawing drawing_;
    PictureTarget target_;
    std::optional<Input> drawn_;     // none: the target holds no picture of a head
    int at_rest_ = 0;                // frames in which the picture has not changed
    bool fine_ = false;              // it has been drawn as finely as it will be
    std::uint64_t meshes_of_ = 0;    // the head's revision
    std::optional<ImVec2> pointer_;  // where it was when a part was looked for last
    bool names_ = false;             // places for names were looked for
};

}  // namespace swashwright::panels
