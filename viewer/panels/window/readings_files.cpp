#include "viewer/panels/window/readings_files.h"

#include <fmt/format.h>

#include <filesystem>
#include <system_error>
#include <utility>

#include "viewer/panels/window/files.h"
#include "viewer/panels/window/state.h"
#include "viewer/panels/window/unsaved.h"

namespace swashwright::panels {

namespace {

void show_measured_head(State& state) {
    const auto& found = measured(state.measure);
    if (!found) return;
    scene::Scene made;
    made.head = found->head;
    made.note = scene::note_of_measured(state.measure.file);
    const std::string before = state.bench.document().path();
    show_document(state, document::Document::never_saved(std::move(made), free_name(state, "measured_head")));
    put_gauge_away(state.gauge, put_away_words(before, state.gauge.path));
    state.measure.said = "This is the head in the picture now. It is not saved yet (Ctrl+S).";
}

}  // namespace

void ask_for_readings(State& state, const std::string& own, const char* ending) {
    std::error_code none;
    std::filesystem::path path = own;
    if (own.empty()) path = std::filesystem::absolute(state.bench.document().path(), none).replace_extension(ending);
    if (!std::filesystem::exists(path, none)) path = path.parent_path() / "";
    ask_for_file(state, Dialog::read, path.string());
}

void save_gauge(State& state) {
    if (state.gauge.path.empty())
        ask_for_file(state, Dialog::save_gauge, path_beside(state, ".readings.toml"));
    else
        save_gauge_as(state, state.gauge.path);
}

void save_gauge_as(State& state, const std::string& path) {
    Gauge& gauge = state.gauge;
    if (!save_text(state, Dialog::save_gauge, path, gauge.path, text_of(gauge))) return;
    gauge.path = path;
    gauge.saved = gauge.revision;
    gauge.said = "Saved as " + std::filesystem::path(path).filename().string();
    go_on(state);
}

void take_gauge(State& state, scene::ReadingsFile file, const std::string& path, bool saved) {
    Gauge& gauge = state.gauge;
    gauge.readings = std::move(file.readings);
    gauge.note = std::move(file.note);
    gauge.path = path;
    ++gauge.revision;
    if (saved) gauge.saved = gauge.revision;
    state.sheet = Sheet::questions;
    for (Question& question : state.questions)
        if (question.reads_readings) {
            question.open = true;
            question.show = frames_to_show;
        }
}

void save_measured(State& state) {
    if (state.measure.path.empty())
        ask_for_file(state, Dialog::save_calliper, path_beside(state, ".measured.toml"));
    else
        save_measured_as(state, state.measure.path);
}

void save_measured_as(State& state, const std::string& path) {
    MeasureSheet& measure = state.measure;
    if (!save_text(state, Dialog::save_calliper, path, measure.path, scene::write(measure.file))) return;
    measure.path = path;
    measure.saved_revision = measure.revision;
    measure.said = "Readings saved as " + std::filesystem::path(path).filename().string();
    go_on(state);
}

void start_measuring_anew(State& state) {
    with_work_safe(state, {.calliper = true}, [](State& s) {
        clear_measured(s.measure);
        s.sheet = Sheet::measure;
        s.dialogs.open = Dialog::none;
    });
}

void make_measured_head(State& state) {
    if (measured(state.measure)) with_work_safe(state, {.scene = true, .gauge = true}, show_measured_head);
}

}  // namespace swashwright::panels
