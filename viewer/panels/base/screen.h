// What every panel draws with: the user's settings, inks and letters, the field that is being typed in, where widgets
// stand, and the line that tells what was done.
#pragma once

#include <algorithm>
#include <cstdint>
#include <string>
#include <utility>

#include "viewer/document/settings.h"
#include "viewer/panels/base/keyboard.h"
#include "viewer/panels/base/report.h"
#include "viewer/panels/base/theme.h"
#include "viewer/panels/base/typing.h"

namespace swashwright::panels {

/// What is said below the fields of a head about the last change that was asked for.
struct EntryNote {
    std::string refused;           // the field whose last value was refused; empty: none
    std::string why;               // what the scene rules say of it
    std::uint64_t refused_at = 0;  // the document's revision: with another, the refusal is over
    std::string assumed;           // of the blade or arm that was added or taken away last
};

struct Screen {
    explicit Screen(std::string report_path) : report(std::move(report_path)) {}

    Report report;
    document::Settings settings;
    document::Settings remembered;  // as they were read, or written last
    std::string settings_path;
    std::string not_remembered;           // why, where the last time failed
    std::string unsaved_key = "unsaved";  // of a head in no file yet (`document::head_key`)
    Fonts fonts;
    Typing typing;
    Keyboard keyboard;
    EntryNote entry;
    float monitor_scale = 1;     // 2 where the monitor's pixels are half as wide as usual
    float scale_most = 1.5F;     // larger text would not fit into the window
    float large_px = 0;          // of the large letters, where a page wants them (`Fonts::large`)
    bool look_stale = true;      // text scale, or day and night, changed: fonts and style are to be made anew
    bool covered = false;        // a dialog stands over the panels
    std::uint64_t revision = 0;  // of the open document as the frame began
    std::string notice;          // "Saved as ...": shown in the picture's corner
    double notice_until = 0;     // seconds of the program's clock
    double clock = 0;            // seconds since the start
    bool frame_wanted = false;   // something shows itself once the pointer has rested, though nothing else happens
    bool settle = false;         // something came by itself: ImGui needs another frame or two to lay it out

    float scale() const { return std::min(monitor_scale * static_cast<float>(settings.text_scale), scale_most); }
    Inks inks() const { return panels::inks(settings.night); }
};

void tell(Screen& screen, std::string notice);
void remember_settings(Screen& screen);  // in the user's state folder; tells if that fails
/// From 1 to the first step that has all the room of the window, at most 2; tells where it has less than was asked for.
void set_text_scale(Screen& screen, double scale);
void step_text_scale(Screen& screen, int steps);  // from what is seen
void next_text_scale(Screen& screen);             // after the largest comes the smallest
/// How much larger than usual the monitor wants text, rules and what can be hit; to the nearest quarter.
void set_screen_scale(Screen& screen, float scale);
/// Keeps text small enough for a window of this width.
void limit_text_scale(Screen& screen, float window_width);
void set_night(Screen& screen, bool night);
void set_inches(Screen& screen, bool inches);  // for reading; scenes stay in mm

}  // namespace swashwright::panels
