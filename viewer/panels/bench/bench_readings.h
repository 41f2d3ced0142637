// Readings as they are typed in at the bench: a row counts once what was read has been typed.
#pragma once

#include <algorithm>
#include <iterator>
#include <memory>
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
    studies::Gauge gauge;
    std::shared_ptr<const studies::Readings> before;  // put by as of when all was well

    BenchReadings() = default;
    BenchReadings(const studies::Readings& all)  // NOLINT: as they are read from a file
        : pitch(all.pitch.begin(), all.pitch.end()),
          ring_height(all.ring_height.begin(), all.ring_height.end()),
          gauge(all.gauge),
          before(all.before) {}

    /// Those that count.
    operator studies::Readings() const {  // NOLINT
        studies::Readings out;
        std::ranges::copy_if(pitch, std::back_inserter(out.pitch), [](const auto& row) { return row.typed; });
        std::ranges::copy_if(ring_height, std::back_inserter(out.ring_height),
                             [](const auto& row) { return row.typed; });
        out.gauge = gauge;
        out.before = before;
        return out;
    }
    std::size_t size() const { return studies::Readings(*this).size(); }
    bool any() const { return size() > 0 || before; }                            // of now or of before
    bool waiting() const { return size() < pitch.size() + ring_height.size(); }  // some row does not count yet
};

}  // namespace swashwright::panels
