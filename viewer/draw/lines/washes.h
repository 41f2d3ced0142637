// Which colours a solid is washed and outlined with: by its tone, its blade, and whether it is touched or in trouble.
#pragma once

#include <cstdint>
#include <glm/glm.hpp>

#include "viewer/draw/base/style.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {

struct Wash {
    glm::vec3 light, shade;
    glm::vec4 hatch{0};             // strength 0: no hatching
    std::uint32_t outline, crease;  // packed
    float weight = 1;               // of the outline
};

Wash wash_of(const Part& part, Tone tone, const Style& style);

}  // namespace swashwright::draw
