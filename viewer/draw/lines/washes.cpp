#include "viewer/draw/lines/washes.h"

#include <algorithm>

#include "viewer/draw/base/palette.h"

namespace swashwright::draw {
namespace {

struct Pair {
    glm::vec3 light, shade;
};

constexpr glm::vec3 rgb(int r, int g, int b) {
    return {static_cast<float>(r) / 255, static_cast<float>(g) / 255, static_cast<float>(b) / 255};
}

Pair by_day(Tone tone) {
    switch (tone) {
        case Tone::bright:
            return {rgb(255, 255, 253), rgb(158, 160, 162)};
        case Tone::steel:
            return {rgb(226, 225, 221), rgb(126, 126, 127)};
        case Tone::thread:
            return {rgb(214, 211, 204), rgb(112, 109, 105)};
        case Tone::dark:
            return {rgb(139, 133, 124), rgb(70, 66, 61)};
        case Tone::carbon:
            return {rgb(118, 116, 114), rgb(58, 57, 57)};
        case Tone::plastic:
            return {rgb(206, 199, 187), rgb(134, 126, 115)};
        default:
            return {rgb(248, 247, 244), rgb(140, 139, 140)};
    }
}

Pair by_night(Tone tone) {
    switch (tone) {
        case Tone::bright:
            return {rgb(176, 203, 226), rgb(66, 98, 130)};
        case Tone::steel:
            return {rgb(118, 149, 178), rgb(46, 74, 104)};
        case Tone::thread:
            return {rgb(108, 138, 166), rgb(40, 66, 94)};
        case Tone::dark:
            return {rgb(44, 70, 98), rgb(17, 36, 58)};
        case Tone::carbon:
            return {rgb(62, 84, 106), rgb(20, 34, 50)};
        case Tone::plastic:
            return {rgb(58, 86, 116), rgb(24, 47, 72)};
        default:
            return {rgb(92, 124, 155), rgb(32, 58, 87)};
    }
}

Pair of_tone(const Part& part, Tone tone, bool night) {
    const Pair plain = by_day(Tone::alloy);
    const glm::vec3 hue = blade_hue(part.index, night);
    if (tone == Tone::band) return {glm::mix(hue, glm::vec3(1), 0.12F), hue * (night ? 0.55F : 0.68F)};
    if (tone == Tone::blade) {
        if (night) return {glm::mix(hue, sheet(true).paper, 0.42F), glm::mix(hue, sheet(true).paper, 0.70F)};
        return {glm::mix(plain.light, hue, 0.30F), glm::mix(plain.shade, hue, 0.40F)};
    }
    return night ? by_night(tone) : by_day(tone);
}

}  // namespace

Wash wash_of(const Part& part, Tone tone, const Style& style) {
    const Sheet& colours = sheet(style.night);
    const Pair pair = of_tone(part, tone, style.night);
    Wash wash{pair.light, pair.shade, glm::vec4(0), packed(colours.ink), packed(colours.ink, 0.72F), 1};
    if (std::ranges::find(style.trouble, part) != style.trouble.end()) {
        wash.hatch = glm::vec4(colours.trouble, 0.85F);
        wash.outline = packed(colours.trouble);
        wash.crease = packed(colours.trouble, 0.8F);
        wash.weight = 1.3F;
    }
    if (style.touched == part || style.touched_too == part || std::ranges::count(style.lit, part)) {
        wash.light = glm::mix(pair.light, colours.accent, 0.55F);
        wash.shade = glm::mix(pair.shade, colours.accent, 0.75F);
        wash.outline = packed(style.night ? glm::mix(colours.accent, glm::vec3(1), 0.5F) : colours.accent * 0.6F);
        wash.crease = wash.outline;
        wash.weight = 1.3F;
    }
    return wash;
}

}  // namespace swashwright::draw
