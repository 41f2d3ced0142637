// A new head from calliper readings: what was typed so far and where in the form one is.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/bench_files/measured.h"
#include "kinematics/studies/measured/measured.h"
#include "viewer/document/recovery.h"

namespace swashwright::panels {

struct State;

struct MeasureSheet {
    scene::MeasuredFile file;    // typed so far; may be kept and put back as it is
    std::uint64_t revision = 1;  // changes with every number typed
    std::uint64_t saved_revision = 1;
    int page = 0;                                // 0: the layout; then pages of readings; last: the head
    std::optional<studies::ReadingPlace> at;     // the field being typed in: the drawing shows it
    std::optional<studies::ReadingPlace> go_to;  // the keyboard goes there in the next frame
    std::uint64_t solved_revision = 0;           // of what `found` was made
    tl::expected<studies::Measured, std::string> found = tl::unexpected(std::string());
    std::string path;  // of the readings; empty until they are saved or read
    std::string said;  // what came of saving, reading or making
    bool list_open = false;
};

/// The readings of one page, from 1 to the number of pages; none on the first and the last.
std::span<const studies::Taking> takings_of_page(int page);
/// Pages of readings.
int reading_pages();
/// The head as the readings stand, worked out once for each revision.
const tl::expected<studies::Measured, std::string>& measured(State& state);
/// Into the file that they come from; asks for one where there is none.
void save_measured(State& state);
/// What the dialog does: asks once more before it replaces another file.
void save_measured_as(State& state, const std::string& path);
/// In place of what was typed. `path`: of their file, empty for none; `saved`: it holds them.
void take_measured(State& state, scene::MeasuredFile file, const std::string& path, bool saved);
/// They were of the head in this file, and another one is open. The sheet says so.
void put_measured_away(State& state, const std::string& scene_path);
/// An empty sheet at its first page; asks first where that would lose what is not saved.
void start_measuring_anew(State& state);
/// There are readings that are in no file yet.
bool readings_unsaved(const State& state);
/// What is to be kept of them against a crash.
document::KeptReadings readings_to_keep(const State& state);
/// Opens the head as a new document that is in no file yet; asks first where the present one has unsaved changes.
void make_measured_head(State& state);

}  // namespace swashwright::panels
