// Gauge and calliper readings in files of their own, and the head that calliper readings make.
#pragma once

#include <string>

#include "kinematics/bench_files/readings.h"

namespace swashwright::panels {

struct State;

/// Asks which readings to read; `own`: the file that those on the screen come from, if any.
void ask_for_readings(State& state, const std::string& own, const char* ending);
/// Into the file that they come from; asks for one where there is none.
void save_gauge(State& state);
void save_measured(State& state);
/// What the dialog does: asks once more before it replaces another file.
void save_gauge_as(State& state, const std::string& path);
void save_measured_as(State& state, const std::string& path);
/// In place of what was typed, with their card open. `path`: of their file, empty for none; `saved`: it holds them.
void take_gauge(State& state, scene::ReadingsFile file, const std::string& path, bool saved);
/// An empty Measure sheet at its first page; asks first where that would lose what is not saved.
void start_measuring_anew(State& state);
/// Opens the measured head as a new document that is in no file yet; asks first where the present one has unsaved
/// changes.
void make_measured_head(State& state);

// The same of readings on the open head.
void save_places(State& state);
void save_places_as(State& state, const std::string& path);
void start_places_anew(State& state);
/// The numbers of the open head as they were measured, as one step of undo.
void set_as_measured(State& state);

}  // namespace swashwright::panels
