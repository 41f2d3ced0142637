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
const tl::expected<studies::Measured, std::string>& measured(MeasureSheet& measure);
/// In place of what was typed. `path`: of their file, empty for none; `saved`: it holds them.
void take_measured(MeasureSheet& measure, scene::MeasuredFile file, const std::string& path, bool saved);
/// An empty sheet at its first page.
void clear_measured(MeasureSheet& measure);
/// There are readings that are in no file yet.
bool readings_unsaved(const MeasureSheet& measure);
/// What is to be kept of them against a crash. Valid as long as `measure` is.
document::KeptReadings readings_to_keep(const MeasureSheet& measure);

}  // namespace swashwright::panels
