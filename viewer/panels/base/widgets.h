// Small controls in the drawing-board look that several panels share.
#pragma once

#include <imgui.h>

#include <optional>
#include <span>
#include <string>

#include "viewer/panels/base/layout.h"

namespace swashwright::panels {

struct Screen;

struct NumberStyle {
    int decimals = 2;
    double step = 0.01;         // of the arrow keys and the wheel, while the field is being typed in
    float width = 80;           // pixels at text scale 1
    bool changed_mark = false;  // differs from what was opened: shown by a mark
    bool length = false;        // in mm: shown in inches where the settings say so, typed in either
};

/// Explains the item drawn last, once the pointer has rested on it; where the note stands: `beside_item`.
void tip(Screen& screen, const char* words);
/// Words about `item`, at once; lines are broken as in the text.
void note_beside(Screen& screen, const Rect& item, const std::string& words);
/// A small button with an arrow head that points to where it sends something.
bool arrow_button(Screen& screen, const char* id, ImGuiDir way, const char* words);

/// A number that is typed. True on the frame in which `value` changes: by Enter, Tab, leaving the field, or the
/// up and down keys; Escape gives back the old one. A decimal comma is taken for a point; what is not a number changes
/// nothing, and a note at the field says so.
bool number_field(Screen& screen, const char* id, double& value, const NumberStyle& style);
/// The same for a number that may be missing: `hint` stands in its place, and emptying the field takes it away.
bool optional_number_field(Screen& screen, const char* id, std::optional<double>& value, const NumberStyle& style,
                           const char* hint);

/// The next button of this word stands beside the last, or below it where it would be cut off.
void same_line_if_it_fits(const char* word, float spacing);

struct LineStyle {
    double low = 0, high = 1, step = 0.01;
    double home = 0;    // a double click goes there
    float width = 120;  // pixels
    bool wheel = true;  // false: the wheel scrolls past it, as in a list
};
/// A line with a knob on it: drag, wheel, double click. True while `value` changes.
bool slide_line(Screen& screen, const std::string& id, double& value, const LineStyle& style);

/// A word that can be pressed, explained by `words` where there are any. `on` shows it as pressed in.
bool word_button(Screen& screen, const char* id, const char* word, const char* words, bool enabled = true,
                 bool on = false);

/// A title over a thin rule; a sign tells open from closed. A press turns it; gives what it is then.
bool section_title(Screen& screen, const std::string& id, const std::string& title, bool& open);

/// A line through `points` in a dash pattern (lengths on, off, ... in pixels; empty for a full line).
void dashed_line(ImDrawList& list, std::span<const ImVec2> points, ImU32 colour, float thickness,
                 std::span<const float> pattern);
/// A blade's number on a patch of its hue, with a sample of its line pattern to the right if there is room for it.
void blade_chip(ImDrawList& list, ImVec2 centre, int index, bool night, float scale);

/// Lines broken at blanks only: ImGui breaks behind a point too, and so within a number.
std::string wrapped(const std::string& text, float width);
/// The same for a text that is typed in: breaks that are no part of it, and the text without them again.
std::string soft_broken(const std::string& text, float width);
std::string without_soft_breaks(const std::string& text);
/// Text as wide as there is room for.
void paragraph(ImU32 colour, const std::string& text);

/// A small filled mark where the next line begins: trouble is told by shape first. What the words after it move right.
float trouble_mark(const Screen& screen);
void draw_trouble_mark(ImDrawList& list, ImVec2 at, const Screen& screen);  // beside a line that begins there

/// Begins a panel without frame, ground or scrolling; end with ImGui::End(). Grounds are cleared by the window, which
/// costs a fraction of what ImGui's filled rectangles do where there is no graphics card.
void begin_panel(const char* name, const Rect& place, bool scrolls = false);

/// Plain text at a place, no layout.
void text_at(ImDrawList& list, ImVec2 at, ImU32 colour, const std::string& text);
/// A thin rule from edge to edge of a panel, where padding would clip it.
void rule(const Screen& screen, ImVec2 from, ImVec2 to);
/// Moves layout to a fixed place in window coordinates.
void place_at(float x, float y);

}  // namespace swashwright::panels
