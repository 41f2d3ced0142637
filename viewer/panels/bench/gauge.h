// The readings of pitch gauge and ring height, and the file that they are in.
#pragma once

#include <cstdint>
#include <string>

#include "viewer/document/recovery.h"
#include "viewer/panels/bench/bench_readings.h"

namespace swashwright::panels {

struct Gauge {
    BenchReadings readings;
    std::uint64_t revision = 1;  // changes with every number typed
    std::uint64_t saved = 1;     // the revision that is in a file
    std::string path;            // of that file; empty: none
    std::string note;            // what it says of itself
    std::string said;            // what came of saving or reading
};

/// There are readings that are in no file yet.
bool gauge_unsaved(const Gauge& gauge);
/// As the text of their file.
std::string text_of(const Gauge& gauge);
/// What is to be kept of them against a crash. Valid as long as `gauge` is.
document::KeptReadings gauge_to_keep(const Gauge& gauge);
/// Puts what is typed by as readings of when all was well. The rows stay, to be read again at the same places.
void keep_as_before(Gauge& gauge);
/// The other way round: those of before are in the table again, and what is typed now, if anything, is put by.
void bring_before_back(Gauge& gauge);
/// They were of another head: what is said of that stays.
void put_gauge_away(Gauge& gauge, std::string said);

}  // namespace swashwright::panels
