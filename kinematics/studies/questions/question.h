// One specification of a study, from which its faces are made: the console's verb and the window's cards.
#pragma once

#include <atomic>
#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/diagnosis/readings.h"
#include "kinematics/studies/envelope/envelope.h"
#include "kinematics/studies/power/power.h"
#include "kinematics/studies/questions/values.h"

namespace swashwright::studies {

/// What a study has to say.
struct Reply {
    Answer answer;
    std::optional<head::Description> proposal = {};  // the head with the answer's settings made
    std::string proposal_words = {};                 // on the button that makes them
    std::shared_ptr<const Envelope> map = {};
    std::vector<std::size_t> take_again = {};  // readings of those asked with, from 0: pitch first, then ring heights
    std::shared_ptr<const Power> power = {};
    std::string so_far = {};  // of how much of the work it is, "40 % of the places"; empty: of all of it
};

/// Everything that an answer depends on, and whom to tell how it goes.
struct Asked {
    head::Head head;
    head::Sticks sticks;
    Values values;
    Readings readings = {};
    std::string readings_note = {};  // what the readings' file says of itself
    std::stop_token stop = {};
    std::atomic<int>* percent = nullptr;  // how far it is, where the study says
    /// Where somebody waits for it: takes what can be said already, at once and then better and better. Each is a whole
    /// answer whose sentence says of how much of the work it is; the last is what `Question::run` returns.
    std::function<void(Reply)> so_far = {};

    Going going() const { return {stop, percent}; }
};

/// Why there is no answer, in a sentence.
struct NoAnswer {
    std::string why;
    bool badly_asked = false;  // what was asked cannot be meant; else the head cannot be posed for it
};

using Outcome = tl::expected<Reply, NoAnswer>;

/// A word to choose, on a card.
struct WordField {
    std::string word, words;  // the option's own, and what stands on the card
    std::string option = {};  // of texts: what goes with the word
    std::string text = {};    // that is put there
};

/// One option on a card.
struct Field {
    std::string option;
    std::string words = {};  // beside it; empty: it is not shown
    Value start = {};        // where the card starts elsewhere than the option
    double step = 1;         // of the up and down keys
    int decimals = 1;
    std::string given_words = {};      // of a number that may be left out: what the yes/no before it says
    double when_given = 0;             // and where the number stands then
    std::vector<WordField> each = {};  // of an option of words, in place of `words`
};

struct Card {
    std::string key;           // of the question: the verb, or its own where a verb has several cards
    std::string words;         // "How far does the pitch go?"
    std::string follows = {};  // what of the answer follows the sticks, in a sentence; empty: nothing
    std::vector<Field> fields = {};
};

/// Whether a study asks where the sticks stand.
enum class AsksSticks { no, yes, one_more };  // one_more: looks at them besides those of its own

struct Question {
    std::string verb;  // never changes once published
    std::string help;  // of the verb
    std::vector<Card> cards;
    std::vector<Option> options = {};
    AsksSticks sticks = AsksSticks::no;
    bool must_close = true;       // the loop, at neutral; else whoever asks may have links that do not reach yet
    bool reads_readings = false;  // of a gauge
    bool sweeps_hands = false;    // goes through what a hand moves; else that stands at its neutral
    bool takes_long = false;      // gives answers so far; a card has a line for how far it is
    Outcome (*run)(const Asked&) = nullptr;

    const Option& option(const std::string& key) const;
    /// As a card starts.
    Values start(const Card& card) const;
};

/// In the order of work at the bench.
const std::vector<Question>& all_questions();

}  // namespace swashwright::studies
