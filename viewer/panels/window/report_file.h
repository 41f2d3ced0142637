// A file that tells a test where every widget stands and what the window shows: `--report FILE`.
#pragma once

namespace swashwright::panels {

struct State;

/// Writes the file anew, if one is wanted: {"frame", "widgets": {name: [left, top, right, bottom]}, "values": {...},
/// "sentence"}.
void write_report(const State& state, long frame);

}  // namespace swashwright::panels
