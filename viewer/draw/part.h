// Names for the parts of a head that the picture, the ledger and the messages share.
#pragma once

#include <compare>

namespace swashwright::draw {

enum class PartKind {
    frame,
    shaft,
    servo,
    horn,
    lower_link,
    inner_ring,
    guide,
    outer_ring,
    driver,
    upper_link,
    hub,
    grip,
    blade
};

/// One part: its kind and, where there are several, its index from 0 (servo, link, grip or blade number).
struct Part {
    PartKind kind = PartKind::frame;
    int index = 0;

    auto operator<=>(const Part&) const = default;
};

}  // namespace swashwright::draw
