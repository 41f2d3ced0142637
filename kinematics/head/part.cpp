#include "kinematics/head/part.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace swashwright::head {

namespace {

struct Name {
    std::string_view path;
    Role role;
    bool several = false;  // there are several of them, numbered
};
/// As answers name parts and numbers, and as a scene's solids name what they ride on. The longer before the shorter.
constexpr Name names[] = {
    {"servo", Role::servo, true},
    {"horn", Role::horn, true},
    {"lower_link", Role::lower_link, true},
    {"upper_link", Role::upper_link, true},
    {"grip", Role::grip, true},
    {"lever", Role::lever, true},
    {"slider", Role::slider, true},
    {"link", Role::other_link, true},
    {"blade", Role::blade, true},
    {"inner_ring", Role::inner_ring},
    {"outer_ring", Role::outer_ring},
    {"swashplate.guide", Role::guide},
    {"swashplate.driver", Role::driver},
    {"swashplate.outer_balls", Role::outer_ring},
    {"swashplate.inner_balls", Role::inner_ring},
    {"swashplate", Role::inner_ring},
    {"rotor.shaft", Role::shaft},
    {"rotor", Role::hub},
    {"hub", Role::hub},
    {"frame", Role::frame},
};

const Name& name_of(Role role) {
    return *std::ranges::find(names, role, &Name::role);
}

}  // namespace

bool is_numbered(Role role) {
    return name_of(role).several;
}

std::string path_of(const PartName& part) {
    const Name& name = name_of(part.role);
    return name.several ? fmt::format("{}[{}]", name.path, part.index + 1) : std::string(name.path);
}

std::optional<PartName> part_of(std::string_view path) {
    const auto name = std::ranges::find_if(names, [&](const Name& n) { return path.starts_with(n.path); });
    if (name == std::end(names)) return std::nullopt;
    int number = 1;  // parts count from 1 in paths
    if (const std::size_t bracket = path.find('['); name->several && bracket != std::string_view::npos)
        std::from_chars(path.data() + bracket + 1, path.data() + path.size(), number);
    return PartName{name->role, number - 1};
}

}  // namespace swashwright::head
