// What panels ask of the window because it takes more than they are given: dialogs, files, another head.
#pragma once

#include <vector>

namespace swashwright::panels {

enum class Wish {
    save_gauge,
    read_gauge,
    save_calliper,
    read_calliper,
    measure_anew,        // an empty Measure sheet
    open_measured_head,  // the head of the Measure sheet takes the place of the open one
    save_places,         // calliper readings on the open head
    read_places,
    places_anew,
    set_as_measured,  // what they come to, into the open head
    compare_with_file,
    undo,
};

/// In the order in which they were asked; done in the same frame, when the panels on the right are drawn.
using Wishes = std::vector<Wish>;

}  // namespace swashwright::panels
