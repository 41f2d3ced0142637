#include "viewer/draw/part.h"

#include <algorithm>
#include <charconv>

namespace swashwright::draw {

namespace {

struct Name {
    std::string_view path;
    PartKind kind;
    bool several = false;  // there are several of them, numbered
};
/// As answers name parts and numbers, and as a scene's solids name what they ride on. The longer before the shorter.
constexpr Name names[] = {
    {"servo", PartKind::servo, true},
    {"horn", PartKind::horn, true},
    {"lower_link", PartKind::lower_link, true},
    {"upper_link", PartKind::upper_link, true},
    {"grip", PartKind::grip, true},
    {"lever", PartKind::lever, true},
    {"slider", PartKind::slider, true},
    {"link", PartKind::other_link, true},
    {"blade", PartKind::blade, true},
    {"inner_ring", PartKind::inner_ring},
    {"outer_ring", PartKind::outer_ring},
    {"swashplate.guide", PartKind::guide},
    {"swashplate.driver", PartKind::driver},
    {"swashplate.outer_balls", PartKind::outer_ring},
    {"swashplate.inner_balls", PartKind::inner_ring},
    {"swashplate", PartKind::inner_ring},
    {"rotor.shaft", PartKind::shaft},
    {"rotor", PartKind::hub},
    {"hub", PartKind::hub},
    {"frame", PartKind::frame},
};

}  // namespace

std::optional<Part> part_of(std::string_view path) {
    const auto name = std::ranges::find_if(names, [&](const Name& n) { return path.starts_with(n.path); });
    if (name == std::end(names)) return std::nullopt;
    int number = 1;  // parts count from 1 in paths
    if (const std::size_t bracket = path.find('['); name->several && bracket != std::string_view::npos)
        std::from_chars(path.data() + bracket + 1, path.data() + path.size(), number);
    return Part{name->kind, number - 1};
}

std::optional<Part> part_of(const head::Shortfall& shortfall) {
    switch (shortfall.part) {
        case head::Shortfall::Part::lower_link:
            return Part{PartKind::lower_link, shortfall.index};
        case head::Shortfall::Part::upper_link:
            return Part{PartKind::upper_link, shortfall.index};
        case head::Shortfall::Part::link:
            return Part{PartKind::other_link, shortfall.index};
        case head::Shortfall::Part::other:
            break;
    }
    return std::nullopt;
}

}  // namespace swashwright::draw
