// The set-up of a head as instructions for one pair of hands, one at a time: servos, level ring, cyclic, zero pitch,
// ends, track. What to expect and what to turn are the head's own answers; a number that is read on the model and typed
// in changes what comes after it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/head.h"

namespace swashwright::studies {

enum class BenchTool { eyes, hands, transmitter, square, calliper, pitch_gauge, hex_key };

/// What is moved, and which way: drawn beside the words.
enum class BenchWay { none, ball_up, ball_down, longer, shorter };

/// A number that a step asks back. It may be left out: then the head as it is open stands in for it.
struct BenchReading {
    std::string key;         // "height 2, round 1": the same as long as the head has the same parts
    std::string words;       // "height of inner ball 2"
    std::string unit;        // "mm", "deg"
    double wanted = 0;       // what it should be
    double as_open = 0;      // what it is on the head as it is open
    double off_at_most = 0;  // a reading farther from `wanted` is taken for a slip
};

/// How a link is turned.
struct BenchTurn {
    head::PartName link;
    double change_mm = 0;  // longer positive; what the steps make
    int steps = 0;         // of `link_step`
    head::Rod rod = head::Rod::plain;
};

struct BenchStep {
    std::string stage;  // "Level ring"
    std::string say;    // the instruction
    std::string more;   // what to expect, what to do where it is not so
    BenchTool tool = BenchTool::eyes;
    BenchWay way = BenchWay::none;
    std::string part = {};  // scene path; empty: the whole head
    head::Sticks sticks = {};
    double azimuth_deg = 0;  // of the rotor
    std::optional<BenchReading> reading = {};
    std::optional<BenchTurn> turn = {};
};

/// What was read, by the key of its step.
using BenchReadings = std::map<std::string, double>;

/// How often a stage is read anew before the steps say that something else than a link must be wrong.
inline constexpr int most_bench_rounds = 3;

/// Steps up to one that asks for a number depend on the numbers asked for before it alone, so they stay when it is
/// typed. A stage that turned links on readings asks to read again. Thread is taken as right-handed at the end that is
/// turned (common practice, no source). Of a tail, and where the loop does not close at mid stick: fails with a
/// sentence.
head::Result<std::vector<BenchStep>> bench_steps(const head::Head& head, const BenchReadings& read = {});

/// Does the number need typing again? Empty if not, else why: "35.00 mm is 12 mm from what it should be: read again".
std::string bench_slip(const BenchReading& reading, double value);

}  // namespace swashwright::studies
