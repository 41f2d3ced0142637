// Work that is in no file yet, and what waits until it is saved or given up.
#pragma once

#include <functional>
#include <string>
#include <tl/expected.hpp>

namespace swashwright::panels {

struct State;

/// Kinds of work: changes of the scene, gauge readings, calliper readings of a new head and of the open one.
struct Work {
    bool scene = false, gauge = false, calliper = false, places = false;

    bool any() const { return scene || gauge || calliper || places; }
};
inline constexpr Work all_work{true, true, true, true};

/// A step that takes work away.
struct Waiting {
    Work at_risk;
    std::function<void(State&)> step;
};

/// What is in no file yet, of the work that the waiting step would take away; of all work where none waits.
Work at_stake(const State& state);
/// Takes the step at once where it loses nothing that is unsaved; else asks: save first, don't save, cancel.
void with_work_safe(State& state, Work at_risk, std::function<void(State&)> step);
/// After every save: saves what else the waiting step would lose, then takes it. Nothing where none waits.
void go_on(State& state);
/// Takes the waiting step and lets the work go.
void go_on_unsaved(State& state);

/// Ends the program. A round of practice in which something was read waits for the next one.
void leave(State& state);

/// Keeps what is unsaved against a crash (`document::Recovery::keep`).
tl::expected<void, std::string> keep_unsaved(State& state);

}  // namespace swashwright::panels
