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
    Rect folds;    // at the end of that line: what folds the tray and the column
    Rect hands;    // above the tray, as wide; no height where nothing is moved by hand, or the tray is folded
    Rect tray;     // along the bottom: below the picture, or across the window where it needs the room
    Rect column;   // on the right: live numbers, ledger, card; no width while it is folded
};

/// What stands in the window, and how much room that asks for.
struct Standing {
    float tools_height = 46;     // as the tools needed when they were last drawn (they wrap)
    float hands_height = 0;      // likewise
    bool wide = false;           // the column holds answers or lessons, which want more room
    bool tray_folded = false;    // to a line of numbers
    bool column_folded = false;  // away
};

/// Half of a common window, or as near to that as can be, is the picture's.
Layout lay_out(float width, float height, float scale, const Standing& standing);

/// Where a note of this size stands that explains `item`: above it, so that it covers neither the item nor what is used
/// next, which lies below or to the right; where there is no room above, to the left of it, to the right, or below.
/// Kept inside the window.
Rect beside_item(const Rect& item, float note_width, float note_height, float window_width, float window_height,
                 float gap);

}  // namespace swashwright::panels
