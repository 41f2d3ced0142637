#include "viewer/panels/window/unsaved.h"

#include <utility>

#include "viewer/panels/lessons/practice_kept.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/readings_files.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

Work at_stake(const State& state) {
    const Work risk = state.waiting ? state.waiting->at_risk : all_work;
    return {risk.scene && users_document(state.bench, state.lessons).unsaved(),
            risk.gauge && gauge_unsaved(state.gauge), risk.calliper && readings_unsaved(state.measure),
            risk.places && places_unsaved(state.places)};
}

void with_work_safe(State& state, Work at_risk, std::function<void(State&)> step) {
    put_lesson_away(state);
    state.waiting = Waiting{at_risk, std::move(step)};
    if (!at_stake(state).any()) return go_on_unsaved(state);
    Waiting waiting = std::move(*state.waiting);
    ask(state, Dialog::unsaved);
    state.waiting = std::move(waiting);
}

void go_on(State& state) {
    if (!state.waiting) return;
    const Work left = at_stake(state);
    if (left.scene) return save(state);
    if (left.gauge) return save_gauge(state);
    if (left.calliper) return save_measured(state);
    if (left.places) return save_places(state);
    go_on_unsaved(state);
}

void go_on_unsaved(State& state) {
    if (!state.waiting) return;
    const auto step = std::move(state.waiting->step);
    state.waiting.reset();
    step(state);
}

void leave(State& state) {
    state.leave = true;
    if (state.lessons.practice.readings.size() == 0) return;
    const auto round = practice_to_keep(state.bench, state.lessons);
    if (!round.unsaved) return;
    // All else is saved or given up by now.
    const document::Document& open = users_document(state.bench, state.lessons);
    state.recovery->start_anew();
    if (!state.recovery->keep(document::Document(open.as_opened(), open.path()), state.screen.clock, {}, {}, {}, round))
        return;
    if (state.recovery->holds()) state.recovery->leave_behind();
}

tl::expected<void, std::string> keep_unsaved(State& state) {
    return state.recovery->keep(users_document(state.bench, state.lessons), state.screen.clock,
                                readings_to_keep(state.measure), gauge_to_keep(state.gauge),
                                places_to_keep(state.places), practice_to_keep(state.bench, state.lessons));
}

}  // namespace swashwright::panels
