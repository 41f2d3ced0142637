// Where the panels stand in the window. Pure arithmetic, window coordinates in pixels.
#pragma once

namespace swashwright::panels {

struct Rect {
    float x = 0, y = 0, width = 0, height = 0;

    float right() const { return x + width; }
    float bottom() const { return y + height; }
};

struct Layout {
    Rect sentence;  // across the top
    Rect tools;     // below it
    Rect picture;
    Rect caption;  // a line below the picture: which head, and from where it is looked at
    Rect hands;    // above the tray, as wide; no height where nothing is moved by hand
    Rect tray;     // along the bottom: below the picture, or across the window where it needs the room
    Rect column;   // on the right: live numbers, ledger, card
};

/// `wide`: the column holds answers or lessons, which want more room. `tools_height` is what the tools needed when they
/// were last drawn (they wrap).
Layout lay_out(float width, float height, float scale, float tools_height, bool wide = false, float hands_height = 0);

}  // namespace swashwright::panels
