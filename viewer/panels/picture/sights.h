// What the picture keeps for itself from frame to frame.
#pragma once

#include <imgui.h>

#include <optional>
#include <string>

#include "viewer/draw/base/part.h"
#include "viewer/draw/lines/in_sight.h"
#include "viewer/panels/picture/gap_watch.h"
#include "viewer/panels/picture/load_watch.h"
#include "viewer/panels/picture/picture_extras.h"

namespace swashwright::panels {

/// What the pointer rests on in the picture.
struct Pointing {
    std::optional<ImVec2> at;        // from the picture's top left, window coordinates; none elsewhere or in a drag
    std::optional<draw::Part> part;  // under it
    std::optional<int> ball;         // of that part, under it
    double since = 0;                // when the part came there, seconds of the program's clock
    std::string note;                // the words that are shown
};

struct Sights {
    Pointing pointing;
    draw::InSight in_sight;       // in the picture of this frame
    std::optional<ImVec2> click;  // not yet turned into a part; pixels from the picture's top left
    PictureExtras extras;
    GapWatch gap;  // between the two parts of the row that was chosen
    LoadWatch loads;
};

}  // namespace swashwright::panels
