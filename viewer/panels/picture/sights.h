// What the picture keeps for itself from frame to frame.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <optional>
#include <string>

#include "viewer/draw/base/part.h"
#include "viewer/draw/lines/distance.h"
#include "viewer/draw/lines/handles.h"
#include "viewer/draw/lines/in_sight.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/picture/gap_watch.h"
#include "viewer/panels/picture/load_watch.h"
#include "viewer/panels/picture/picture_extras.h"

namespace swashwright::panels {

/// What the pointer rests on in the picture.
struct Pointing {
    std::optional<ImVec2> at;        // from the picture's top left, window coordinates; none elsewhere or in a drag
    std::optional<draw::Part> part;  // under it
    std::optional<int> ball;         // of that part, under it
    std::optional<Vec3> place;       // of that part, under it, head frame
    double since = 0;                // when the part came there, seconds of the program's clock
    std::string note;                // the words that are shown
};

/// What a click in the picture is for.
struct Click {
    enum class For { choose, frame, menu };
    ImVec2 at;  // pixels from the picture's top left
    For what = For::choose;
};

/// The menu of a place in the picture.
struct PlaceMenu {
    std::optional<draw::Part> part;    // none: beside the head
    std::optional<draw::Place> place;  // on it
    bool opening = false;
};

/// A handle on its way, and what it does with the sticks.
struct Drag {
    draw::Handle handle;            // as it was grabbed
    ImVec2 off;                     // from the pointer to the handle when it was grabbed
    double reading = 0, other = 0;  // what it moves, as it was then: deg or mm; of the rim nose down and right down
    Controls before;                // to go back to
    std::uint64_t revision = 0;     // of the document whose head it is on
    bool given_up = false;          // it went back
    bool cyclic = false;            // a blade by the cyclic stick
    std::string words, trouble;     // what it comes to; why it goes no further
};

/// The distance that is being taken.
struct DistanceTool {
    bool open = false, focus = false;
    std::optional<draw::Place> from;
    std::string typed;
    std::string said;
};

struct Sights {
    Pointing pointing;
    draw::InSight in_sight;        // in the picture of this frame
    std::optional<Click> click;    // not yet turned into a part
    bool framed_by_click = false;  // the release of a double click chooses nothing
    PlaceMenu menu;
    std::optional<Drag> drag;
    DistanceTool distance;
    bool picture_wanted = false;  // its file is to be asked for
    std::string handle;           // words for the handle under the pointer
    std::string handle_moves;     // what moves with it: "the sticks follow"
    ImVec2 bar;                   // size of the bar for the chosen part when it was drawn last
    ImVec2 size;                  // of the picture in window coordinates
    float pixels = 1;             // for each unit of them
    PictureExtras extras;
    GapWatch gap;  // between the two parts of the row that was chosen
    LoadWatch loads;
};

}  // namespace swashwright::panels
