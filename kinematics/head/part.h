// What a part of a head is called, the same for poses, studies, pictures, ledger and messages.
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace swashwright::head {

enum class Role {
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

/// One part: its role and, where there are several, its index from 0 (servo, link, grip, blade, lever or slider
/// number).
struct PartName {
    Role role = Role::frame;
    int index = 0;

    auto operator<=>(const PartName&) const = default;
};

/// True of the three kinds of links.
inline bool is_link(Role role) {
    return role == Role::lower_link || role == Role::upper_link || role == Role::other_link;
}

/// True of roles of which a head may have several, told apart by their index.
bool is_numbered(Role role);

/// A path by which `part_of` finds the part: "upper_link[2]", "outer_ring".
std::string path_of(const PartName& part);
/// The part that a path names or a number in it belongs to ("upper_link[2]", "servo[1].trim_deg"); none if it names no
/// part. Whether a head has so many of them is not asked.
std::optional<PartName> part_of(std::string_view path);

}  // namespace swashwright::head
