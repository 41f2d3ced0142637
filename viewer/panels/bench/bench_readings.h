// Readings as they are typed in at the bench: a row counts once what was read has been typed.
#pragma once

#include <algorithm>
#include <iterator>
#include <utility>
#include <vector>

#include "kinematics/studies/diagnosis/readings.h"

namespace swashwright::panels {

template <class Reading>
struct BenchRow : Reading {
    bool typed = true;  // else the row is there, and nothing was read yet

    BenchRow() = default;
    BenchRow(Reading reading, bool was_typed = true)  // NOLINT: a reading is a row
        : Reading(std::move(reading)), typed(was_typed) {}
};

struct BenchReadings {
    std::vector<BenchRow<studies::PitchReading>> pitch;
    std::vector<BenchRow<studies::RingHeightReading>> ring_height;

    BenchReadings() = default;
    BenchReadings(const studies::Readings& all)  // NOLINT: as they are read from a file
        : pitch(all.pitch.begin(), all.pitch.end()), ring_height(all.ring_height.begin(), all.ring_height.end()) {}

    /// Those that count.
    operator studies::Readings() const {  // NOLINT
        studies::Readings out;
        std::ranges::copy_if(pitch, std::back_inserter(out.pitch), [](const auto& row) { return row.typed; });
        std::ranges::copy_if(ring_height, std::back_inserter(out.ring_height),
                             [](const auto& row) { return row.typed; });
        return out;
    }
    std::size_t size() const { return studies::Readings(*this).size(); }
    bool waiting() const { return size() < pitch.size() + ring_height.size(); }  // some row does not count yet
};

}  // namespace swashwright::panels
