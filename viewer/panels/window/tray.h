// Cyclic pad and collective strip, or a tail's rudder strip; azimuth ring; their numbers.
#pragma once

#include <vector>

#include "viewer/panels/base/layout.h"
#include "viewer/panels/bench/bench.h"

namespace swashwright::panels {

/// What the arrow keys move: a stick, the rotor, or a lever that is moved by hand, by its index.
struct TrayFocus {
    enum class On { pad, collective, rudder, azimuth, hand };
    On on = On::pad;
    int hand = 0;

    bool operator==(const TrayFocus&) const = default;
};
/// What there is to move on this head, in the order in which the keyboard goes through it.
std::vector<TrayFocus> all_in_tray(const head::Description& head);
/// Where the head has nothing of that kind: the first that it has.
void keep_focus(TrayFocus& focus, const head::Description& head);

/// `folded`: as one line of numbers.
void draw_tray(Screen& screen, Bench& bench, TrayFocus& focus, const Rect& place, bool folded = false);

}  // namespace swashwright::panels
