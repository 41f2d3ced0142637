// Names for the parts of a head that the picture, the ledger and the messages share.
#pragma once

#include <compare>
#include <optional>
#include <string_view>

#include "kinematics/head/pose.h"

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
    blade,
    lever,
    slider,
    other_link
};

/// One part: its kind and, where there are several, its index from 0 (servo, link, grip, blade, lever or slider
/// number).
struct Part {
    PartKind kind = PartKind::frame;
    int index = 0;

    auto operator<=>(const Part&) const = default;
};

/// True of the three kinds of links.
inline bool is_link(PartKind kind) {
    return kind == PartKind::lower_link || kind == PartKind::upper_link || kind == PartKind::other_link;
}

/// The part that a path names or a number in it belongs to ("upper_link[2]", "servo[1].trim_deg"); none if it names no
/// part. Whether a head has so many of them is not asked.
std::optional<Part> part_of(std::string_view path);
/// The link that falls short; none if it is something else.
std::optional<Part> part_of(const head::Shortfall& shortfall);

}  // namespace swashwright::draw
