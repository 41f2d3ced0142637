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

/// The name by which a file of readings finds a scene: relative, where both lie on one drive.
std::string seen_from(const std::string& readings, const std::string& scene) {
    std::error_code none;
    const auto folder = std::filesystem::absolute(readings, none).parent_path();
    return std::filesystem::absolute(scene, none).lexically_proximate(folder).string();
}

void show_measured_head(State& state) {
    const auto& found = measured(state.measure);
    if (!found) return;
    scene::Scene made;
    made.head = found->head;
    made.note = scene::note_of_measured(state.measure.file);
    const std::string before = state.bench.document().path();
    show_document(state, document::Document::never_saved(std::move(made), free_name(state, "measured_head")));
    put_gauge_away(state.gauge, put_away_words(before, state.gauge.path));
    put_places_away(state.places, put_away_words(before, state.places.path));
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
    if (measured(state.measure))
        with_work_safe(state, {.scene = true, .gauge = true, .places = true}, show_measured_head);
}

void save_places(State& state) {
    if (state.places.path.empty())
        ask_for_file(state, Dialog::save_places, path_beside(state, ".places.toml"));
    else
        save_places_as(state, state.places.path);
}

void save_places_as(State& state, const std::string& path) {
    PlacesSheet& sheet = state.places;
    const document::Document& document = users_document(state.bench, state.lessons);
    scene::CalliperFile file = sheet.file;
    file.scene_file = seen_from(path, document.path());
    const std::string text = scene::write(file, places_found(sheet, document).places);
    if (!save_text(state, Dialog::save_places, path, sheet.path, text)) return;
    sheet.file = std::move(file);
    sheet.path = path;
    sheet.saved_revision = sheet.revision;
    sheet.said = "Readings saved as " + std::filesystem::path(path).filename().string();
    if (!document.in_a_file()) sheet.said += ". Save the head too: these readings name its file.";
    go_on(state);
}

void start_places_anew(State& state) {
    with_work_safe(state, {.places = true}, [](State& s) {
        take_places(s.places, {}, "", /*saved=*/true);
        s.sheet = Sheet::measure;
        s.dialogs.open = Dialog::none;
    });
}

void set_as_measured(State& state) {
    put_lesson_away(state);
    const PlacesFound& found = places_found(state.places, state.bench.document());
    if (!found.fit) return;
    scene::Scene next = state.bench.document().scene();
    std::string words = change_words(next.head, found.fit->head, "the head had these numbers already");
    next.head = found.fit->head;
    if (auto done = state.bench.edit(std::move(next), "numbers as measured"); !done) {
        state.places.said = done.error();
        return;
    }
    state.places.set_readings = state.places.revision;
    state.places.set_head = state.bench.document().revision();
    state.places.made = {std::move(words), state.bench.document().revision()};
    state.places.said.clear();
}

}  // namespace swashwright::panels
