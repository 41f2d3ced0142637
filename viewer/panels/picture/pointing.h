// What the pointer rests on in the picture: the part is lit, and a note beside the pointer tells its main numbers.
#pragma once

#include <imgui.h>

#include <optional>
#include <string>

#include "viewer/draw/base/part.h"
#include "viewer/panels/base/layout.h"

namespace swashwright::panels {

struct State;

struct Pointing {
    std::optional<ImVec2> at;        // from the picture's top left, window coordinates; none elsewhere or in a drag
    std::optional<draw::Part> part;  // under it
    std::optional<int> ball;         // of that part, under it
    double since = 0;                // when the part came there, seconds of the program's clock
    std::string note;                // the words that are shown
};

/// The part that the pointer has rested on long enough to be told about.
std::optional<draw::Part> pointed_at(const State& state);
/// Follows the pointer; call behind the picture's own item.
void follow_pointer(State& state, const Rect& picture);
void draw_note(State& state, const Rect& picture);

}  // namespace swashwright::panels
