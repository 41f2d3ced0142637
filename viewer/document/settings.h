// What the window remembers from one start to the next, in the user's state folder.
#pragma once

#include <set>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "viewer/document/head_kept.h"

namespace swashwright::document {

struct Settings {
    bool safety_read = false;  // the safety note has been read and put away
    bool night = false;
    bool inches = false;                 // lengths are read in inches; scenes stay in mm
    bool letter = false;                 // the build sheet is printed on Letter, not on A4
    double text_scale = 1.0;             // 1 to 2
    bool tray_folded = false;            // sticks and rotor stand as one line of numbers
    bool camera_moves = true;            // camera changes take a quarter of a second; false: at once
    int width = 1280, height = 800;      // of the window
    std::set<std::string> lessons_done;  // titles of those gone through to the end
    HeadsKept heads;                     // at the bench, and after a crash
    std::vector<std::string> recent;     // scenes, the last first, absolute paths
};

/// $XDG_STATE_HOME/swashwright/window.json, or ~/.local/state in place of $XDG_STATE_HOME, as the XDG Base Directory
/// Specification 0.8 has it: relative values are ignored. Empty if there is no home either.
std::string settings_path();

/// What the file says; the standard settings for what it does not say, or if it cannot be read.
Settings load_settings(const std::string& path);
/// The scene that was opened or saved last goes to the front of the list.
void note_recent(Settings& settings, const std::string& path);
/// Makes the folder if it is missing. The error is a sentence.
tl::expected<void, std::string> save_settings(const std::string& path, const Settings& settings);
/// The same, and leaves what another window wrote meanwhile: only what differs from `before`, as this window read or
/// wrote it last, is its own. Heads and lessons of the other are then here, too.
tl::expected<void, std::string> remember_settings(const std::string& path, Settings& settings, Settings& before);

}  // namespace swashwright::document
