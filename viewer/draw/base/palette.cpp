#include "viewer/draw/base/palette.h"

#include <algorithm>
#include <array>

namespace swashwright::draw {
namespace {

constexpr glm::vec3 rgb(unsigned hex) {
    return {static_cast<float>(hex >> 16 & 255U) / 255.0F, static_cast<float>(hex >> 8 & 255U) / 255.0F,
            static_cast<float>(hex & 255U) / 255.0F};
}

constexpr int hue_count = 6;
// M. Okabe and K. Ito, "Color Universal Design" (2002): blue, orange, bluish green, reddish purple, sky blue, yellow.
// Vermilion is left out as the accent, black as the ink.
constexpr std::array<glm::vec3, hue_count> hues{rgb(0x0072B2), rgb(0xE69F00), rgb(0x009E73),
                                                rgb(0xCC79A7), rgb(0x56B4E9), rgb(0xF0E442)};

constexpr std::array<float, 2> dashes{9, 4};
constexpr std::array<float, 2> dots{2, 3};
constexpr std::array<float, 4> dash_dot{10, 3, 2, 3};
constexpr std::array<float, 6> dash_dot_dot{10, 3, 2, 3, 2, 3};
constexpr std::array<float, 2> long_dashes{16, 5};

}  // namespace

const Sheet& sheet(bool night) {
    static constexpr Sheet day{rgb(0xF5F0E5), rgb(0x34312C), rgb(0x9E978A), rgb(0xD55E00), rgb(0xA3123A)};
    static constexpr Sheet dark{rgb(0x10243B), rgb(0xDCE8F2), rgb(0x5F7F9E), rgb(0xFF8B3D), rgb(0xFF8FA3)};
    return night ? dark : day;
}

glm::vec3 blade_hue(int index, bool night, bool as_line) {
    const glm::vec3 hue = hues[static_cast<std::size_t>(((index % hue_count) + hue_count) % hue_count)];
    if (!as_line) return hue;
    // Thin lines and text need contrast with the sheet: darker on paper, lighter at night.
    const float luminance = glm::dot(hue, glm::vec3(0.2126F, 0.7152F, 0.0722F));
    if (night) return glm::mix(hue, glm::vec3(1), std::clamp(0.62F - luminance, 0.0F, 0.5F));
    return hue * std::clamp(1.0F - 1.1F * (luminance - 0.40F), 0.45F, 1.0F);
}

std::span<const float> blade_dash(int index) {
    switch (((index % hue_count) + hue_count) % hue_count) {
        case 1:
            return dashes;
        case 2:
            return dash_dot;
        case 3:
            return dots;
        case 4:
            return long_dashes;
        case 5:
            return dash_dot_dot;
        default:
            return {};
    }
}

std::uint32_t packed(const glm::vec3& colour, float alpha) {
    const auto byte = [](float x) { return static_cast<std::uint32_t>(std::clamp(x, 0.0F, 1.0F) * 255.0F + 0.5F); };
    return byte(colour.r) | byte(colour.g) << 8U | byte(colour.b) << 16U | byte(alpha) << 24U;
}

}  // namespace swashwright::draw
