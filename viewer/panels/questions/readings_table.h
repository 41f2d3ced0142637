// Pitch-gauge and ring-height readings as a table that is typed into.
#pragma once

#include <span>

#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/gauge.h"
#include "viewer/panels/bench/wishes.h"

namespace swashwright::panels {

/// `take_again`: readings, of those that count, that are marked as such (pitch first, then ring heights, from 0).
void draw_readings(Screen& screen, const Bench& bench, Gauge& gauge, std::span<const std::size_t> take_again,
                   Wishes& wishes);

}  // namespace swashwright::panels
