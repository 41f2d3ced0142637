// Opening and saving: which file, and what must not be lost on the way.
#pragma once

#include <string>
#include <string_view>

#include "kinematics/scene/scene.h"

namespace swashwright::panels {

struct State;
enum class Dialog;

/// A file from the dialog, or let go over the window: a scene, or readings, told by what stands in it. Asks first where
/// unsaved work would be lost; on failure the dialog says why.
void open_file(State& state, const std::string& path);
/// Into the file that is open; asks for a name where there is none, or where the head came with the program.
void save(State& state);
/// What the dialog does: asks once more before it replaces another file.
void save_scene(State& state, const std::string& path);
/// Asks where to write the build sheet.
void ask_for_sheet(State& state, bool card = false);
/// On the paper of the settings; asks once more before it replaces a file.
void write_sheet(State& state, const std::string& path);
/// A head that is in no file yet, in place of the open one; whatever is unsaved must be safe.
void show_new(State& state, scene::Scene scene);
/// Takes up what a program left behind, the newest first.
void take_up_left_work(State& state);

/// Writes `text`; `own`: the file that it comes from. If it fails, `dialog` stands open and says why.
bool save_text(State& state, Dialog dialog, const std::string& path, const std::string& own, std::string_view text);
/// A name for the scene: its own, or in the working folder where the head came with the program.
std::string name_to_save(const State& state);
/// Beside it, a name that is not taken yet: "measured_head.toml", "measured_head_2.toml".
std::string free_name(const State& state, const char* stem);
/// The same with another ending: where what belongs to the head is kept.
std::string path_beside(const State& state, const char* ending);
/// Readings left the screen because another head was opened; `file`: where they are, empty for nowhere.
std::string put_away_words(const std::string& scene_path, const std::string& file);

}  // namespace swashwright::panels
