// How few readings would have told the hidden fault, and whether the part that was named is the one.
#pragma once

#include <stop_token>
#include <string>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/diagnosis/hidden_fault.h"

namespace swashwright::studies {

/// The program at its own game: it knows that one thing is wrong, and no more of it than whoever plays.
struct OwnPlay {
    Readings readings;     // as it took them: each where its diagnosis of those before says that it settles most
    std::string key;       // of the part that it names
    double probable = 0;   // that part, with these readings
    bool settled = false;  // it is sure, or further readings would settle little; else it gave up
};

/// From so probable a part on it is named.
inline constexpr double sure = 0.95;
/// So many readings and it gives up.
inline constexpr std::size_t most_own_readings = 12;

/// Fails where the head cannot be read, or `stop` was asked for.
head::Result<OwnPlay> own_play(const HiddenFault& hidden, const std::stop_token& stop = {});

/// As many places as the program reads at most: these, and then those that tell the sizes of all suspects best.
Readings long_sitting(const HiddenFault& hidden, Readings readings);

/// Some fault of the part would have left these readings as they are, but for less than counts as told apart
/// (`told_apart`): noise-free, sizes found on the real linkage, no larger than the part can be off.
bool explains_as_well(const HiddenFault& hidden, const Readings& places, const std::string& key);

enum class Verdict { right, as_well, wrong, given_up };

struct PracticeScore {
    Verdict verdict = Verdict::given_up;
    std::string named;             // words of the part that was named; empty: given up
    Readings readings, sound;      // those of whoever played, and what the head as described shows there
    std::vector<double> by_fault;  // of each, by how many uncertainties the fault moves it, its sign kept
    OwnPlay own;
    std::string own_named;   // words of the part that the program names
    bool own_right = false;  // it is the one, or explains the readings as well
};

/// What is named explains as well where not even a long sitting tells it from the hidden fault, together with the
/// readings of whoever played: who reads little and guesses is not right by that. `key` empty: given up. Fails where a
/// reading cannot be taken, where the part is none of this head, or `stop` was asked for.
head::Result<PracticeScore> practice_score(const HiddenFault& hidden, const Readings& places, const std::string& key,
                                           const std::stop_token& stop = {});

/// Before a part is named: what the gauge reads, and of the fault nothing.
Answer practice_readings(const HiddenFault& hidden, const Readings& readings, const Readings& sound);
Answer answer(const PracticeScore& score, const HiddenFault& hidden);

}  // namespace swashwright::studies
