// A fault to be found: which round is on, what was read of it, and what came of the part that was named. Nothing here
// draws the head with the fault: the bench has a copy of it as described.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/studies/diagnosis/practice_play.h"
#include "viewer/panels/questions/inquiry.h"

namespace swashwright::panels {

/// What is asked for.
struct PracticeRound {
    std::string title;  // "Today's, 2026-11-29"
    std::uint64_t number = 0;
};

struct Practice {
    PracticeRound round;
    std::optional<studies::HiddenFault> hidden;  // while a round is on
    studies::Readings readings, sound;           // taken so far, and what the head as described shows there
    std::string said;                            // why a reading was not taken, or none could be hidden
    std::string chosen;                          // key of the part that would be named; empty: none
    bool told = false;                           // a part was named, or it was given up
    bool leave_asked = false;                    // it goes, with what was read, once that is pressed again
    Inquiry verdict;                             // what came of that
    std::vector<bool> whole;                     // tables of the verdict that are shown in full
    std::uint64_t revision = 0;                  // changes with what is kept of it, and is no other round's

    bool on() const { return hidden.has_value(); }
};

/// A fault hidden in this head; not `on`, with why, where none can be.
Practice hide(const head::Description& description, PracticeRound round);
/// Takes a reading where sticks and rotor stand.
void read_blade(Practice& practice, const head::Sticks& sticks, double azimuth_deg, int blade);
void read_ball(Practice& practice, const head::Sticks& sticks, int ball);
/// Takes readings at all of these places, in place of those so far.
void read_places(Practice& practice, studies::Readings places);
/// The part that would be named; empty: none.
void choose_part(Practice& practice, const std::string& key);
/// Ends the round: it is this part; empty: given up.
void name_part(Practice& practice, const std::string& key);

/// Scene path of the part that would be named, and once that is told of the one that it was; empty: none, or it is no
/// part to be seen.
std::string path_to_light(const Practice& practice);

/// A head of the demo scenes.
struct PracticeHead {
    const char *file, *words;  // in the folder of scenes
};
/// Whose head is today's, by the date: their order and number stay, else the days of the past would be others.
const std::vector<PracticeHead>& practice_heads();
/// A number that nobody has chosen.
std::uint64_t any_number();

}  // namespace swashwright::panels
