// The questions that a builder can put to the head, each answered by one study: what can be chosen and what is called.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "viewer/panels/questions/inquiry.h"

namespace swashwright::panels {

struct State;

struct Choice {
    std::string words, unit;
    double value = 0, low = 0, high = 1, step = 1;
    int decimals = 1;
    bool yes_no = false;  // value is 0 or 1
};

inline constexpr int frames_to_show = 4;  // the sheet's height follows a frame behind, its scrolling another

struct Question {
    std::string key;    // the console's verb
    std::string words;  // "How far does the pitch go?"
    std::vector<Choice> choices;
    Study study;
    bool follows_sticks = false;
    bool wants_closed_loop = true;
    bool reads_readings = false;
    std::string follows;  // said below the title where the answer follows the sticks

    bool open = false;
    int show = 0;  // frames for which it is brought into sight; they count once there is an answer to scroll
    Inquiry inquiry;
    /// What the last asking depended on, to see when it must be asked again.
    struct Stamp {
        std::uint64_t revision = 0, readings = 0;
        head::Sticks sticks;
        std::vector<double> choices;

        bool operator==(const Stamp&) const = default;
    } stamp;
    std::vector<bool> whole;  // tables that are shown in full
};

/// In the order of work at the bench.
std::vector<Question> all_questions();

/// Takes over the answers that are ready; before anything is drawn, so that the next frame shows them.
void take_answers(State& state);
/// Asks again where what the answer depends on has changed. Closed questions rest.
void renew_answers(State& state);
/// Some question is being answered, or the build sheet is being made.
bool answering(const State& state);

}  // namespace swashwright::panels
