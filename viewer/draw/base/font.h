// The program's typeface: B612 where Debian's fonts-b612 is installed; parentheses and letters that it lacks, or all,
// from DejaVu Sans (fonts-dejavu-core); without either ImGui's own.
#pragma once

#include <string>
#include <vector>

struct ImFont;
struct ImFontAtlas;

namespace swashwright::draw {

/// Installed files of the wanted weight, best first.
std::vector<std::string> font_files(bool bold = false);
/// Path of the first installed font file of the list above; empty if there is none.
std::string font_path(bool bold = false);
/// Adds the typeface at `pixels` to an atlas, with Latin, Greek, Cyrillic, Armenian and Georgian letters, punctuation,
/// arrows and mathematical signs. Never fails: at worst it is ImGui's built-in font. The caller builds the atlas.
ImFont* add_font(ImFontAtlas& atlas, float pixels, bool bold = false);
/// The same for letters of 50 pixels and more, with Latin, Greek and Cyrillic letters and punctuation alone.
ImFont* add_large_font(ImFontAtlas& atlas, float pixels);

}  // namespace swashwright::draw
