// Colours and line patterns that picture, plots, tables and print share. A hue never stands alone: each blade also
// has a number, a dash pattern and a count of bands.
#pragma once

#include <cstdint>
#include <glm/glm.hpp>
#include <span>

namespace swashwright::draw {

/// The colours of a sheet, sRGB in [0, 1].
struct Sheet {
    glm::vec3 paper, ink, faint;  // ground, lines and text, construction lines
    glm::vec3 accent;             // what is being touched now; nothing else uses it
    glm::vec3 trouble;            // second signal only: a mark and words come first
};

/// The drawing board by day, or the night sheet.
const Sheet& sheet(bool night);
/// Hue of blade `index` (from 0): the Okabe-Ito set without black and vermilion, repeating after six. Its light tones
/// are darkened for use as text or thin lines on paper if `as_line`.
glm::vec3 blade_hue(int index, bool night, bool as_line = false);
/// Dash pattern of blade `index` for lines: lengths on, off, on, off ... in pixels at 100 %; empty is a full line.
std::span<const float> blade_dash(int index);
/// `colour` packed as ImGui wants it.
std::uint32_t packed(const glm::vec3& colour, float alpha = 1);

}  // namespace swashwright::draw
