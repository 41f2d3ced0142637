// Calliper readings of a head whose arrangement a scene lends, in a file of their own, format 1 (TOML): text to
// readings and back. Keys: scenes/README.md, "Calliper readings of any head".
#pragma once

#include <string>
#include <string_view>

#include "kinematics/scene/scene.h"
#include "kinematics/studies/measured/calliper_fit.h"

namespace swashwright::scene {

struct CalliperFile {
    std::string scene_file;  // as written, relative to the file
    std::string note;        // shown to people; demos say here that they are invented
    studies::CalliperReadings readings;
};

/// With the scene that it stands on.
struct LoadedCalliper {
    CalliperFile file;
    Scene scene;
    head::Head head;
};

/// Reads calliper readings of `head` from text. Reports every mistake, not only the first; a place that the head does
/// not have is one, and the nearest that it has is named. Without a head places go unchecked.
Result<CalliperFile> parse_calliper(std::string_view text, std::string file, const head::Head* head);
Result<CalliperFile> load_calliper(const std::string& path, const head::Head* head);
/// The same with the scene that the text names, which is looked for beside `file`.
Result<LoadedCalliper> parse_calliper(std::string_view text, std::string file);
Result<LoadedCalliper> load_calliper(const std::string& path);
/// The readings as text, in the order of `places`, then those of other places; `parse_calliper` gives the same numbers
/// back, to the last bit, if they are within its ranges.
std::string write(const CalliperFile& file, const std::vector<studies::CalliperPlace>& places);
/// The scene with the numbers as measured; its note says so.
Scene measured_scene(const LoadedCalliper& loaded, const studies::CalliperFit& fit);

}  // namespace swashwright::scene
