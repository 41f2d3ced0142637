// The questions that a builder can put to the head, a card each, made from the studies' specifications: what stands on
// a card at present, and what came of it.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "kinematics/studies/questions/question.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/gauge.h"
#include "viewer/panels/bench/made.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/questions/inquiry.h"
#include "viewer/panels/questions/load_turn_watch.h"
#include "viewer/panels/questions/map_cell.h"

namespace swashwright::panels {

inline constexpr int frames_to_show = 4;  // the sheet's height follows a frame behind, its scrolling another

struct Question {
    const studies::Question* study = nullptr;
    const studies::Card* card = nullptr;  // one of the study's
    std::string key;                      // the card's
    bool reads_readings = false;          // the study does

    studies::Values values;                 // as chosen
    std::map<std::string, double> not_yet;  // numbers that stand on the card and are not given, by option

    bool open = false;
    int show = 0;  // frames for which it is brought into sight; they count once there is an answer to scroll
    Inquiry inquiry;
    /// What the last asking depended on, to see when it must be asked again.
    struct Stamp {
        std::uint64_t revision = 0, readings = 0;
        head::Sticks sticks;
        studies::Values values;

        bool operator==(const Stamp&) const = default;
    } stamp;
    bool stopped = false;     // by hand: nothing more comes of what was asked last
    bool slow = false;        // it takes long enough for a line of its own that says how far it is
    double fresh_at = 0;      // when the answer was last one to what is asked now, seconds of the program's clock
    std::vector<bool> whole;  // tables that are shown in full
    LoadTurnWatch loads;      // of the one about them
    MapMark map;              // what was pressed in its map
    Made made;                // what came of its proposal
};

/// A card of each kind, closed, in the order of `studies::all_questions`.
std::vector<Question> all_questions();

/// Takes over the answers that are ready; before anything is drawn, so that the next frame shows them.
void take_answers(Screen& screen, std::vector<Question>& questions);
/// Asks again where what the answer depends on has changed. Closed questions rest:
/// what they were at work on is stopped.
void renew_answers(const Bench& bench, const Gauge& gauge, std::vector<Question>& questions);
/// What its answer depends on, as it is now.
Question::Stamp stamp_of(const Bench& bench, const Gauge& gauge, const Question& question);
/// The first sentence of the answer, if that is of what would be asked now; else empty.
std::string headline(const Bench& bench, const Gauge& gauge, const Question& question);
/// As the open card about loads has it; none while it is closed.
std::optional<FlownAs> flown_as(const std::vector<Question>& questions);
/// Some question is being answered.
bool answering(const std::vector<Question>& questions);
/// What is being worked out is not wanted after all; what stands on the cards stays.
void stop_answers(std::vector<Question>& questions);
/// The answer on the card is of a head, or of sticks, that are no more, and has been for long enough to be seen.
bool stale(const Question& question, double now);

}  // namespace swashwright::panels
