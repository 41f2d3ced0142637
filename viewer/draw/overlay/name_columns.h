// Names in two columns beside a drawing, joined to what they name by leader lines. Pure geometry, pixels, y down.
#pragma once

#include <glm/glm.hpp>
#include <span>
#include <vector>

namespace swashwright::draw {

struct NameBox {
    glm::vec2 low, high;
};

inline bool overlap(const NameBox& a, const NameBox& b) {
    return a.low.x < b.high.x && b.low.x < a.high.x && a.low.y < b.high.y && b.low.y < a.high.y;
}

/// A name to be placed: how long it is, and where its leader ends.
struct NameWanted {
    float width = 0;
    glm::vec2 tip{};
};

struct NamePlaced {
    std::size_t which = 0;  // of those wanted
    NameBox box;
    glm::vec2 from{};  // where the leader leaves the name
};

struct NameSheet {
    NameBox picture;
    float height = 20;               // of every name
    float gap = 4;                   // between names, and to the picture's edge
    std::span<const NameBox> taken;  // what no name may cover
    std::span<const NameBox> busy;   // what a name had better not cover
};

/// Names in the margins, each at about the height of what it names; in a column the order is that of the tips, and
/// where leaders would cross, names change places. No name covers another, or what is taken; all lie inside the
/// picture. What finds no room is left out, the last wanted first.
std::vector<NamePlaced> place_names(std::span<const NameWanted> wanted, const NameSheet& sheet);

/// Two lines that meet between their ends.
bool cross(const glm::vec2& a, const glm::vec2& b, const glm::vec2& c, const glm::vec2& d);

}  // namespace swashwright::draw
