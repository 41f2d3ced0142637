#include "viewer/panels/files/gauge_file.h"

#include <filesystem>
#include <utility>

#include "viewer/document/atomic_file.h"
#include "viewer/panels/files/files.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

std::string text_of(const State& state) {
    return scene::write(scene::ReadingsFile{state.readings, state.readings_note});
}

}  // namespace

bool gauge_unsaved(const State& state) {
    return state.readings_saved != state.readings_revision && state.readings.size() > 0;
}

document::KeptReadings gauge_to_keep(const State& state) {
    return {state.readings_revision, gauge_unsaved(state), state.readings_path, [&state] { return text_of(state); }};
}

void save_gauge(State& state) {
    if (state.readings_path.empty())
        ask_for_file(state, Dialog::save_gauge, path_beside(state, ".readings.toml"));
    else
        save_gauge_as(state, state.readings_path);
}

void save_gauge_as(State& state, const std::string& path) {
    if (!save_text(state, Dialog::save_gauge, path, state.readings_path, text_of(state))) return;
    state.readings_path = path;
    state.readings_saved = state.readings_revision;
    state.readings_said = "Saved as " + std::filesystem::path(path).filename().string();
    go_on(state);
}

void take_gauge(State& state, scene::ReadingsFile file, const std::string& path, bool saved) {
    state.readings = std::move(file.readings);
    state.readings_note = std::move(file.note);
    state.readings_path = path;
    ++state.readings_revision;
    if (saved) state.readings_saved = state.readings_revision;
    state.sheet = Sheet::questions;
    for (Question& question : state.questions)
        if (question.reads_readings) {
            question.open = true;
            question.show = frames_to_show;
        }
}

void put_gauge_away(State& state, const std::string& scene_path) {
    if (state.readings.size() == 0) return;
    state.readings = {};
    state.readings_note.clear();
    state.readings_saved = ++state.readings_revision;
    state.readings_said = put_away_words(scene_path, std::exchange(state.readings_path, {}));
}

}  // namespace swashwright::panels
