#include "viewer/panels/window/files.h"

#include <fmt/format.h>

#include <filesystem>
#include <system_error>
#include <utility>

#include "kinematics/scene/file_kind.h"
#include "viewer/document/atomic_file.h"
#include "viewer/document/data_folder.h"
#include "viewer/document/own_files.h"
#include "viewer/panels/lessons/practice_kept.h"
#include "viewer/panels/window/readings_files.h"
#include "viewer/panels/window/state.h"
#include "viewer/panels/window/unsaved.h"
#include "viewer/sheet/print.h"

namespace swashwright::panels {

namespace {

namespace fs = std::filesystem;

std::string name_of_file(const std::string& path) {
    return fs::path(path).filename().string();
}

bool same_file(const std::string& a, const std::string& b) {
    std::error_code none;
    return a == b || fs::equivalent(a, b, none);
}

bool has_own_file(const document::Document& document) {
    return document.in_a_file() && !document::came_with_program(document.path());
}

void say_why_not(State& state, const std::string& path, const std::string& why) {
    if (state.dialogs.open != Dialog::open && state.dialogs.open != Dialog::read)
        ask_for_file(state, Dialog::open, path);
    state.dialogs.error = why;
}

/// The head's own file, which another program may have changed: to replace that takes a press of its own.
bool may_replace_changed(State& state, const std::string& path) {
    const bool told = state.dialogs.open == Dialog::save && path == state.dialogs.replace_path;
    if (told || !state.bench.document().changed_on_disk()) return true;
    if (state.dialogs.open != Dialog::save) ask(state, Dialog::save);
    state.dialogs.replace_path = path;
    state.dialogs.error =
        "Another program has changed this file since it was opened. Press Save to replace it, or choose another name.";
    return false;
}

void put_measured_away(MeasureSheet& measure, const std::string& scene_path) {
    if (measure.file.measured.taken.empty()) return;
    const std::string path = measure.path;
    clear_measured(measure);
    measure.said = put_away_words(scene_path, path);
}

/// Readings of another head do not stay.
void put_readings_away(State& state, const std::string& scene_path) {
    if (state.gauge.readings.any() || !state.measure.file.measured.taken.empty() ||
        !state.places.file.readings.list.empty())
        tell(state.screen, fmt::format("The readings of {} were put away", name_of_file(scene_path)));
    put_gauge_away(state.gauge, put_away_words(scene_path, state.gauge.path));
    put_measured_away(state.measure, scene_path);
    put_places_away(state.places, put_away_words(scene_path, state.places.path));
}

void show_scene(State& state, document::Document document) {
    const std::string before = state.bench.document().path();
    show_document(state, std::move(document));
    if (!same_file(before, state.bench.document().path())) put_readings_away(state, before);
}

void open_scene(State& state, const std::string& path) {
    auto opened = document::Document::open(path);
    if (!opened) return say_why_not(state, path, opened.error().text());
    show_scene(state, std::move(*opened));
    document::note_recent(state.screen.settings, path);
    remember_settings(state.screen);
}

void open_gauge(State& state, const std::string& path) {
    auto read = scene::load_readings(path);
    if (!read) return say_why_not(state, path, read.error().text());
    state.dialogs.open = Dialog::none;
    take_gauge(state, std::move(*read), path, /*saved=*/true);
    state.gauge.said = "Read from " + name_of_file(path);
}

void open_measured(State& state, const std::string& path) {
    auto read = scene::load_measured(path);
    if (!read) return say_why_not(state, path, read.error().text());
    state.dialogs.open = Dialog::none;
    state.sheet = Sheet::measure;
    take_measured(state.measure, std::move(*read), path, /*saved=*/true);
    state.measure.said = "Read from " + name_of_file(path);
}

/// Of the open head, so that a place that it does not have is told; unchecked where it cannot be a head.
/// Readings of places that the open head does not have are kept, and told of on their page.
scene::Result<scene::CalliperFile> read_places(const std::string& path) {
    return scene::load_calliper(path, nullptr);
}

void open_places(State& state, const std::string& path) {
    auto read = read_places(path);
    if (!read) return say_why_not(state, path, read.error().text());
    state.dialogs.open = Dialog::none;
    state.sheet = Sheet::measure;
    state.places.shown = true;
    const std::string of = (fs::path(path).parent_path() / read->scene_file).string();
    const bool other = !same_file(of, users_document(state.bench, state.lessons).path());
    take_places(state.places, std::move(*read), path, /*saved=*/true);
    state.places.said = "Read from " + name_of_file(path);
    if (other) state.places.said += fmt::format(". They say that they are of {}.", name_of_file(of));
}

/// Whole, or not at all: what of the left work can be read.
struct Left {
    std::optional<document::Document> document;  // its own, or as it is on the disk
    std::optional<scene::MeasuredFile> calliper;
    std::optional<scene::ReadingsFile> gauge;
    std::optional<scene::CalliperFile> places;
    std::optional<KeptRound> practice;
};

/// A round of practice stands on a head of its own: alone it takes no other's place.
bool is_practice_alone(const document::LeftWork& work) {
    return !work.has_scene() && !work.has_readings();
}

tl::expected<Left, std::string> read_left(const document::LeftWork& work) {
    Left left;
    if (work.has_scene()) {
        auto document = document::take_up(work);
        if (!document) return tl::unexpected(document.error().text());
        left.document = std::move(*document);
    } else if (work.has_readings()) {
        if (auto document = document::Document::open(work.path)) left.document = std::move(*document);
    }
    if (!work.readings.empty()) {
        auto calliper = scene::parse_measured(work.readings, work.readings_path);
        if (!calliper) return tl::unexpected(calliper.error().text());
        left.calliper = std::move(*calliper);
    }
    if (!work.gauge.empty()) {
        auto gauge = scene::parse_readings(work.gauge, work.gauge_path);
        if (!gauge) return tl::unexpected(gauge.error().text());
        left.gauge = std::move(*gauge);
    }
    if (!work.places.empty()) {
        auto places = scene::parse_calliper(work.places, work.places_path, nullptr);
        if (!places) return tl::unexpected(places.error().text());
        left.places = std::move(*places);
    }
    if (!work.practice.empty()) {
        auto round = round_of(work.practice, work.practice_path);
        if (!round) return tl::unexpected(round.error());
        left.practice.emplace(std::move(*round));
    }
    return left;
}

void show_left(State& state, Left left, const document::LeftWork& work) {
    // Readings alone bring their head along; the one that is open may have changes.
    if (left.document && (work.has_scene() || !same_file(work.path, state.bench.document().path())))
        show_scene(state, std::move(*left.document));
    if (work.has_scene() && !state.bench.document().in_a_file())
        document::rename_head(state.screen.settings.heads, work.file, state.screen.unsaved_key, /*stays=*/false);
    const char* said = "The readings that were left are here again. Save them to keep them.";
    if (left.gauge) {
        take_gauge(state, std::move(*left.gauge), work.gauge_path, /*saved=*/false);
        state.gauge.said = said;
    }
    if (left.calliper) {
        take_measured(state.measure, std::move(*left.calliper), work.readings_path, /*saved=*/false);
        state.measure.said = said;
        state.sheet = Sheet::measure;
    }
    if (left.places) {
        take_places(state.places, std::move(*left.places), work.places_path, /*saved=*/false);
        state.places.said = said;
        state.places.shown = true;
        state.sheet = Sheet::measure;
    }
    if (work.has_scene()) state.sheet = Sheet::parts;
    if (left.practice) {
        show_practice(state.bench, state.view, state.selection, state.lessons, left.practice->on,
                      std::move(left.practice->practice));
        state.sheet = Sheet::lessons;
    }
    state.dialogs.open = Dialog::none;
}

void take_up_first(State& state) {
    if (state.left_work.empty()) return;
    const document::LeftWork work = state.left_work.front();
    auto left = read_left(work);
    if (!left) {
        ask(state, Dialog::left_work);
        state.dialogs.error = left.error();
        return;
    }
    show_left(state, std::move(*left), work);
    // Kept under this window's own name before the old copy goes.
    state.recovery->start_anew();
    const auto kept = keep_unsaved(state);
    if (state.recovery->holds()) document::remove_left_work(work);
    state.left_work.erase(state.left_work.begin());
    const char* said = is_practice_alone(work) ? "The round of practice goes on where it was left."
                                               : "The work that was left is here again. Save it to keep it.";
    tell(state.screen, kept ? said : kept.error());
}

}  // namespace

void open_file(State& state, const std::string& path) {
    put_lesson_away(state);
    // Read before the question what is to become of unsaved work, and again after it: it may have been saved there.
    const auto open = [&](const auto& read, Work at_risk, void (*act)(State&, const std::string&)) {
        if (!read) return say_why_not(state, path, read.error().text());
        with_work_safe(state, at_risk, [act, path](State& s) { act(s, path); });
    };
    switch (scene::kind_of_file(path)) {
        case scene::FileKind::readings:
            return open(scene::load_readings(path), {.gauge = true}, open_gauge);
        case scene::FileKind::measured:
            return open(scene::load_measured(path), {.calliper = true}, open_measured);
        case scene::FileKind::calliper:
            return open(read_places(path), {.places = true}, open_places);
        case scene::FileKind::scene:
        case scene::FileKind::lesson:  // whose keys the scene's reader names
            break;
    }
    const bool other = !same_file(path, state.bench.document().path());
    open(scene::load(path), {true, other, other, other}, open_scene);
}

void save(State& state) {
    put_lesson_away(state);
    if (has_own_file(state.bench.document()))
        save_scene(state, state.bench.document().path());
    else
        ask(state, Dialog::save);
}

void save_scene(State& state, const std::string& path) {
    put_lesson_away(state);
    const bool own = has_own_file(state.bench.document()) && path == state.bench.document().path();
    if (!own && !may_replace(state.dialogs, path, "Save")) return;
    if (own && !may_replace_changed(state, path)) return;
    const bool stays = has_own_file(state.bench.document());
    const std::string key = document::head_key(state.bench.document(), state.screen.unsaved_key);
    if (auto saved = state.bench.save(path); !saved) {
        if (state.dialogs.open != Dialog::save) ask(state, Dialog::save);
        state.dialogs.error = saved.error();
        return;
    }
    state.dialogs.open = Dialog::none;
    document::note_recent(state.screen.settings, path);
    document::rename_head(state.screen.settings.heads, key,
                          document::head_key(state.bench.document(), state.screen.unsaved_key), stays);
    follow_key(state.at_bench, key, document::head_key(state.bench.document(), state.screen.unsaved_key));
    remember_settings(state.screen);
    tell(state.screen, fmt::format("Saved as {}", document::hand_out(path)));
    go_on(state);
}

bool save_text(State& state, Dialog dialog, const std::string& path, const std::string& own, std::string_view text) {
    if (path != own && !may_replace(state.dialogs, path, "Save")) return false;
    if (auto saved = document::write_atomically(path, text); !saved) {
        if (state.dialogs.open != dialog) ask_for_file(state, dialog, path);
        state.dialogs.error = saved.error();
        return false;
    }
    document::hand_out(path);
    state.dialogs.open = Dialog::none;
    return true;
}

std::string name_to_save(const State& state) {
    const std::string& path = state.bench.document().path();
    std::error_code none;
    return document::came_with_program(path) ? (fs::current_path(none) / name_of_file(path)).string() : path;
}

std::string free_name(const State& state, const char* stem) {
    std::error_code none;
    const fs::path folder = fs::path(name_to_save(state)).parent_path();
    for (int number = 1;; ++number) {
        const auto path =
            folder / (number == 1 ? fmt::format("{}.toml", stem) : fmt::format("{}_{}.toml", stem, number));
        if (!fs::exists(path, none)) return path.string();
    }
}

std::string path_beside(const State& state, const char* ending) {
    return fs::path(name_to_save(state)).replace_extension(ending).string();
}

std::string put_away_words(const std::string& scene_path, const std::string& file) {
    return fmt::format("The readings of {} were put away when another head was opened{}", name_of_file(scene_path),
                       file.empty() ? "." : "; they are in " + file);
}

void ask_for_sheet(State& state, bool card) {
    ask_for_file(state, Dialog::sheet, path_beside(state, card ? ".card.pdf" : ".pdf"));
    state.dialogs.card = card;
}

void write_sheet(State& state, const std::string& path) {
    if (!path.ends_with(".pdf")) {  // a scene that was pressed in the list is not to be written over
        state.dialogs.error =
            fmt::format("A {} is a PDF file: let its name end in .pdf.", state.dialogs.card ? "card" : "build sheet");
        return;
    }
    if (!document::files_are_apart() && !may_replace(state.dialogs, path, "Write")) return;
    state.dialogs.open = Dialog::none;
    state.sheet_writer.start(state.bench.document().scene(), path,
                             state.screen.settings.letter ? sheet::Paper::letter : sheet::Paper::a4,
                             state.dialogs.card);
    tell(state.screen, state.dialogs.card ? "The card is being made" : "The build sheet is being made");
}

void show_new(State& state, scene::Scene scene) {
    const std::string path = free_name(state, "new_head"), before = state.bench.document().path();
    show_document(state, document::Document::never_saved(std::move(scene), path));
    put_readings_away(state, before);  // of another new head, too, that never had a file
}

void take_up_left_work(State& state) {
    if (state.left_work.empty()) return;
    const document::LeftWork& work = state.left_work.front();
    const Practice& now = state.lessons.practice;
    if (!work.practice.empty() && now.on() && !now.told) {
        state.dialogs.error = "A round of practice is on. Finish it, and take this one up at the next start.";
        return;
    }
    const bool other = !is_practice_alone(work) && !same_file(work.path, state.bench.document().path());
    with_work_safe(state,
                   {other || work.has_scene(), other || !work.gauge.empty(), other || !work.readings.empty(),
                    other || !work.places.empty()},
                   take_up_first);
}

}  // namespace swashwright::panels
