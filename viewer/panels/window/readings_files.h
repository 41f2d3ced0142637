// The gauge readings of the card "diagnose" in a file of their own.
#pragma once

#include <string>

#include "kinematics/bench_files/readings.h"
#include "viewer/document/recovery.h"

namespace swashwright::panels {

struct State;

/// There are readings that are in no file yet.
bool gauge_unsaved(const State& state);
/// What is to be kept of them against a crash.
document::KeptReadings gauge_to_keep(const State& state);
/// Into the file that they come from; asks for one where there is none.
void save_gauge(State& state);
/// What the dialog does: asks once more before it replaces another file.
void save_gauge_as(State& state, const std::string& path);
/// In place of what was typed, with their card open. `path`: of their file, empty for none; `saved`: it holds them.
void take_gauge(State& state, scene::ReadingsFile file, const std::string& path, bool saved);
/// They were of the head in this file, and another one is open. The card says so.
void put_gauge_away(State& state, const std::string& scene_path);

}  // namespace swashwright::panels
