// Pitch-gauge and ring-height readings as a table that is typed into.
#pragma once

#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/gauge.h"
#include "viewer/panels/bench/wishes.h"

namespace swashwright::panels {

void draw_readings(Screen& screen, const Bench& bench, Gauge& gauge, Wishes& wishes);

}  // namespace swashwright::panels
