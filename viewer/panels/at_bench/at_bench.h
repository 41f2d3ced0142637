// One instruction at a time, filling the window, to be read from two metres: the set-up of the open head, or the list
// for after a crash. Space goes on, Backspace back, Escape leaves; a number that a step asks for is typed as it is
// read.
#pragma once

#include <imgui.h>

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "kinematics/studies/bench/bench_steps.h"
#include "viewer/document/head_kept.h"
#include "viewer/panels/base/screen.h"
#include "viewer/panels/bench/bench.h"

namespace swashwright::panels {

enum class BenchList { set_up, after_crash };

struct AtBench {
    bool open = false;
    BenchList list = BenchList::set_up;
    std::size_t at = 0;  // from 0
    studies::BenchReadings read;
    std::string typed;        // into the number that the step asks for
    std::string slip;         // why what was typed is not taken; it stays in the field
    bool anew_asked = false;  // to start again once more is pressed
    /// Where the list was left in an earlier run of the program: behind the cautions stands a step that goes on there.
    std::optional<document::BenchPlace> left;
    std::optional<document::BenchPlace> sought;  // to go to once the steps are made
    std::set<std::string> begun;                 // in this run: keys of heads, each with the list
    // The steps, and of what they were made.
    std::vector<studies::BenchStep> steps;
    std::string head;  // its key (`document::head_key`)
    std::uint64_t revision = 0;
    bool stale = true;
    bool unkept = false;  // where one is is kept once the steps are made
};

/// Letters of the instruction: more than a sixteenth of the window's height, so that they are read from two metres.
float bench_letters_px(float window_height);

/// What is kept under one key goes by another from now on: a head was saved.
void follow_key(AtBench& at_bench, const std::string& before, const std::string& now);
/// Opens where this head's list was left; the first time in a run of the program with the cautions before it.
void open_at_bench(Screen& screen, const Bench& bench, AtBench& at_bench, BenchList list);
void leave_at_bench(Screen& screen, AtBench& at_bench);
/// Takes the number that is typed, if any; a slip stays and says so.
void bench_on(Screen& screen, AtBench& at_bench);
/// Takes back the last letter that was typed, else goes to the step before.
void bench_back(Screen& screen, AtBench& at_bench);
/// Starts again; where readings or ticks would go with it, at the second press.
void bench_anew(Screen& screen, AtBench& at_bench);
/// Takes what is typed out, and what was read here.
void bench_forget(AtBench& at_bench);

/// All over the window, `Screen::fonts.large` where it is there. Asks for its letters by `Screen::large_px`.
void draw_at_bench(Screen& screen, const Bench& bench, AtBench& at_bench, ImVec2 window);

}  // namespace swashwright::panels
