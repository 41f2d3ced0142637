#include "viewer/panels/window/panels.h"

#include <algorithm>
#include <utility>

#include "viewer/panels/picture/hiding.h"
#include "viewer/panels/picture/picture_panels.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/hand_tray.h"
#include "viewer/panels/window/picture_file.h"
#include "viewer/panels/window/readings_files.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

void begin_frame(State& state) {
    Screen& screen = state.screen;
    screen.keyboard.begin_frame();
    screen.report.begin_frame(screen.keyboard.marked());
    screen.frame_wanted = false;
    screen.covered = state.dialogs.open != Dialog::none;
    screen.revision = state.bench.document().revision();
    state.selection.hovered.reset();
    take_answers(screen, state.questions);
    if (auto said = state.sheet_writer.poll()) {
        tell(screen, std::move(*said));
        screen.settle = true;
    }
    follow_sheet(state.bench, state.view, state.selection, state.lessons, state.sheet == Sheet::lessons);
}

void grant(State& state, Wish wish) {
    switch (wish) {
        case Wish::save_gauge:
            return save_gauge(state);
        case Wish::read_gauge:
            return ask_for_readings(state, state.gauge.path, ".readings.toml");
        case Wish::save_calliper:
            return save_measured(state);
        case Wish::read_calliper:
            return ask_for_readings(state, state.measure.path, ".measured.toml");
        case Wish::measure_anew:
            return start_measuring_anew(state);
        case Wish::open_measured_head:
            return make_measured_head(state);
        case Wish::save_places:
            return save_places(state);
        case Wish::read_places:
            return ask_for_readings(state, state.places.path, ".places.toml");
        case Wish::places_anew:
            return start_places_anew(state);
        case Wish::set_as_measured:
            return set_as_measured(state);
        case Wish::undo:
            return undo(state);
        case Wish::compare_with_file:
            return ask(state, Dialog::compare);
    }
}

void place_camera(State& state, double aspect) {
    const Screen& screen = state.screen;
    const Bench& bench = state.bench;
    const Selection& selection = state.selection;
    const Sights& sights = state.sights;
    View& view = state.view;
    follow_frame(screen, bench, view, selection, sights, aspect);
    const Fit fit = std::exchange(view.fit, Fit::none);
    if (fit == Fit::chosen)
        fit_chosen(screen, bench, view, selection, sights, aspect);
    else if (fit != Fit::none)
        fit_camera(screen, bench, view, selection, sights, aspect, fit == Fit::at_once);
    if (const auto from = std::exchange(view.view_wanted, std::nullopt))
        stand_at(screen, bench, view, selection, sights, *from, aspect);
    if (const auto at = std::exchange(state.selection.look_at, std::nullopt))
        look_closer(screen, bench, view, selection, state.sights, *at, aspect);
    look_from_standpoint(screen, bench, view, state.lessons, aspect);
}

}  // namespace

Layout draw_panels(State& state, ImVec2 window, const std::function<void(const Layout&)>& see) {
    constexpr float least_width = 640, least_height = 480;  // below this panels are cut off rather than squeezed
    window = {std::max(window.x, least_width), std::max(window.y, least_height)};
    begin_frame(state);
    follow_folds(state, window);
    const float scale = state.screen.scale();
    const Layout layout = lay_out(window.x, window.y, scale,
                                  {.tools_height = state.tools_height,
                                   .hands_height = hands_height(state.bench.head(), scale),
                                   .wide = state.sheet != Sheet::parts,
                                   .tray_folded = tray_folded(state),
                                   .column_folded = state.folds.column});
    if (state.at_bench.open) {
        draw_at_bench(state.screen, state.bench, state.at_bench, window);
        draw_dialogs(state, window);
        return layout;
    }
    // Controls first, then what follows from them, so that the picture answers in the same frame.
    draw_tray(state.screen, state.bench, state.focus, layout.tray, tray_folded(state));
    draw_hands(state.screen, state.bench, state.focus, layout.hands);
    draw_tools(state, layout.tools);
    state.bench.follow();
    draw_column(state, layout.column);
    for (const Wish wish : std::exchange(state.wishes, {})) grant(state, wish);
    if (std::exchange(state.save_wanted, false)) save(state);
    state.bench.follow();
    renew_answers(state.bench, state.gauge, state.questions);
    state.view.forces = state.sheet == Sheet::questions ? flown_as(state.questions) : std::nullopt;
    follow_parts(state.view, state.bench.head());
    state.selection.spoken_of = lesson_parts(state.lessons);
    state.selection.angle = lesson_angle(state.lessons);
    state.sights.extras.update(state.bench, state.view, state.sheet == Sheet::compare ? &state.compare : nullptr);
    place_camera(state, layout.picture.width / layout.picture.height);
    draw_sentence(state.screen, state.bench, layout.sentence);
    handle_picture(state.screen, state.bench, state.view, state.selection, state.sights, layout.picture);
    state.bench.follow();  // a handle may have moved the sticks
    if (see) see(layout);
    draw_picture(state.screen, state.bench, state.view, state.selection, state.sights, layout.picture);
    if (std::exchange(state.sights.picture_wanted, false)) ask_for_picture(state);
    draw_caption(state.screen, state.bench, state.view, state.selection, layout.caption);
    draw_folds(state, layout.folds);
    draw_dialogs(state, window);
    return layout;
}

}  // namespace swashwright::panels
