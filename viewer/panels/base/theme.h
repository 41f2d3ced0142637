// How the window looks: fonts, ImGui style, and the colours of paper, ink and rules.
#pragma once

#include <imgui.h>

namespace swashwright::panels {

struct Fonts {
    ImFont* body = nullptr;
    ImFont* heading = nullptr;  // the sentence
    ImFont* large = nullptr;    // read from two metres; only while a page asks for it
};

/// Colours that the panels draw with; they come from the drawing's own sheet.
struct Inks {
    ImU32 paper, panel, field;  // ground, panels, what can be typed or dragged in
    ImU32 ink, soft, rule;      // text and lines, lesser text, thin rules
    ImU32 accent, trouble;
    ImU32 on_accent;  // text on a patch of accent
};

Inks inks(bool night);
ImU32 blade_colour(int index, bool night, bool as_line);

/// Replaces the atlas's fonts; the caller uploads the new texture. 16 px to the em at scale 1. `large_px`: height of a
/// line of the large letters, 0 for none.
Fonts load_fonts(ImFontAtlas& atlas, float scale, float large_px = 0);
/// Sets ImGui's style: paper and ink, square corners, thin rules, no gloss.
void apply_style(bool night, float scale);

}  // namespace swashwright::panels
