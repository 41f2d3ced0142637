// A new head from calliper readings: what was typed so far and where in the form one is.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/scene/measured.h"
#include "kinematics/studies/measured_head.h"
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
    std::string path;          // of the readings; empty until they are saved or read
    std::string replace_path;  // a file that may be replaced: it was read or saved here, or the user has been told
    std::uint64_t lost_revision = 0;  // the readings that may be replaced: the user has been told
    std::string said;                 // what came of saving, reading or making
    bool list_open = false;
};

/// The readings of one page, from 1 to the number of pages; none on the first and the last.
std::span<const studies::Taking> takings_of_page(int page);
/// Pages of readings.
int reading_pages();
/// The head as the readings stand, worked out once for each revision.
const tl::expected<studies::Measured, std::string>& measured(State& state);
/// Saves the readings beside the scene, or where they came from.
void save_measured(State& state);
/// Reads them from there, in place of what was typed; refuses if that would lose what is not saved.
void read_measured(State& state);
/// There are readings that are in no file yet.
bool readings_unsaved(const State& state);
/// What is to be kept of them against a crash.
document::KeptReadings readings_to_keep(const State& state);
/// Readings that a program left behind, in place of what was typed. False if they cannot be read; the sheet says why.
bool take_up_readings(State& state, const document::LeftWork& work);
/// Opens the head as a new document that is in no file yet; says why not if the present one has unsaved changes.
void make_measured_head(State& state);

}  // namespace swashwright::panels
