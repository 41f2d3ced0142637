// What the pages of the Measure sheet share, and its last page.
#pragma once

#include <string>

namespace swashwright::panels {

struct State;

/// After every change of a reading or of the layout.
void measure_changed(State& state);
/// A paragraph in ink, or softer.
void measure_text(const State& state, const std::string& words, bool soft = false);
/// A small filled mark, then words: told by shape first.
void measure_doubt(const State& state, const std::string& words);

/// The last page: the head that the readings make, its links, and what is doubtful about it.
void draw_measured_head(State& state);

}  // namespace swashwright::panels
