// The blades' tips in flight, seen edge on, and their links turned step by step until the tips run together: tried
// first, kept by a press.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/studies/pitch/track_seen.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"

namespace swashwright::panels {

struct TrackPage {
    std::vector<int> steps;  // tried, of each blade's upper link; empty: none
    std::uint64_t of = 0;    // revision of the document that they are tried on: with another they are over
    head::Sticks sticks;     // what `seen` was worked out for, with the steps
    std::vector<int> seen_with;
    std::optional<head::Result<studies::TrackSeen>> seen;
    std::string why;  // the step tried last was taken back; until the next one
};

/// Worked out anew where head, sticks or steps have changed; steps that no link can take are taken back, with why.
void follow(TrackPage& page, const Bench& bench);
/// The tried steps become the head's, as one step of undo.
void keep_steps(Screen& screen, Bench& bench, TrackPage& page);

/// True where the page is to be left.
bool draw_track(Screen& screen, Bench& bench, Selection& selection, TrackPage& page);

}  // namespace swashwright::panels
