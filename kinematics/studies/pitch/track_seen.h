// Blades seen edge on from the side, as a lamp in time with the rotor shows them: how far apart their tips run, and
// what half turns of their links make of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kinematics/studies/pitch/tracking.h"

namespace swashwright::studies {

/// The least by which a hand turns a link while a model waits to be started again: half a turn, of a plain rod whose
/// ends press on from one side only a whole one.
struct HandStep {
    double mm = 0;  // of length
    const char *one = "", *many = "";
};
HandStep hand_step(const head::Link& link);
/// "2 half turns longer"; "as it is" for none.
std::string hand_steps_in_words(const head::Link& link, int steps);

struct TrackSeen {
    Tracking now;                // of the head with the links turned so
    std::vector<int> steps;      // hand steps of each blade's upper link from the head as described; longer positive
    head::Description turned;    // the head with them
    std::vector<double> tip_mm;  // of each blade over the mean of all; an upper-side estimate. Empty: not known
    std::vector<int> best;       // steps from the head as described after which the tips run closest together
    double split_mm = 0, best_split_mm = 0;  // highest less lowest tip; 0 where tips are not known
    double best_split_deg = 0;               // of the mean pitch, posed with `best`
    double best_mean_deg = 0;                // of all blades, posed so

    std::size_t highest() const;  // blade, from 0
    std::size_t lowest() const;
    /// `best` leaves less than there is now, as far as it is told.
    bool gains() const;
};

/// How `head` flies at these sticks with its upper links turned by `steps` (none: as they are). `best` is searched from
/// each exact change, the whole steps on either side, for the least split plus a fifth of the mean's shift, as in
/// `tracking`, and then posed. Fails where no blade has an upper link of its own, where a link would be shorter than
/// nothing, or as `tracking` does.
head::Result<TrackSeen> track_seen(const head::Head& head, const head::Sticks& sticks, std::vector<int> steps = {});

/// The sentence, a row for each blade, and what is not in it.
Answer answer(const TrackSeen& seen);

/// Why nobody stands in the plane of the disc.
extern const char* const out_of_the_plane;

}  // namespace swashwright::studies
