#include "viewer/panels/window/state.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include "viewer/panels/ledger/edit_words.h"
#include "viewer/panels/picture/hiding.h"
#include "viewer/panels/window/files.h"

namespace swashwright::panels {

namespace {

/// Of heads that were in no file when a program ended, and that nothing is left of.
void forget_unsaved_heads(document::HeadsKept& heads, const std::string& unsaved_folder) {
    if (unsaved_folder.empty()) return;
    std::error_code none;
    std::erase_if(heads, [&](const auto& head) {
        const std::filesystem::path key = head.first;
        return key.parent_path() == unsaved_folder && !std::filesystem::exists(key, none);
    });
}

}  // namespace

State make_state(document::Document document, const std::string& settings_path, const std::string& report_path,
                 const std::string& unsaved_folder) {
    State state(std::move(document), report_path);
    state.screen.settings = document::load_settings(settings_path);
    state.screen.remembered = state.screen.settings;
    state.screen.settings_path = settings_path;
    state.left_work = document::left_work(unsaved_folder);
    state.recovery = std::make_unique<document::Recovery>(unsaved_folder);
    if (!state.recovery->file().empty()) state.screen.unsaved_key = state.recovery->file();
    state.screen.settings.heads.erase(state.screen.unsaved_key);
    forget_unsaved_heads(state.screen.settings.heads, unsaved_folder);
    document::note_recent(state.screen.settings, state.bench.document().path());
    state.ledger.sections = ledger_sections(state.bench.head());
    if (!state.screen.settings.safety_read) ask(state, Dialog::safety);
    return state;
}

void show_document(State& state, document::Document document) {
    put_lesson_away(state);
    state.screen.settings.heads.erase(state.screen.unsaved_key);  // of the head before, if it is in no file
    state.bench.show(std::move(document));
    state.lessons.crash_cleared.clear();
    state.recovery->start_anew();
    state.selection.forget_rows();
    state.selection.selected.reset();
    state.ledger.sections = ledger_sections(state.bench.head());
    forget_parts(state.view, state.sights);
    state.view.fit = Fit::moving;
    state.dialogs.open = Dialog::none;
}

void ask(State& state, Dialog dialog) {
    const bool saves = dialog == Dialog::save || dialog == Dialog::save_gauge || dialog == Dialog::save_calliper ||
                       dialog == Dialog::save_places;
    if (!saves) state.waiting.reset();
    if (saves || dialog == Dialog::open || dialog == Dialog::read || dialog == Dialog::unsaved) put_lesson_away(state);
    Dialogs asked;
    asked.open = dialog;
    asked.opening = true;
    asked.path = std::move(state.dialogs.path);
    state.dialogs = std::move(asked);
    const bool files = dialog == Dialog::open || dialog == Dialog::save || dialog == Dialog::compare;
    if (!files) return;
    state.dialogs.path = dialog == Dialog::save ? name_to_save(state) : state.bench.document().path();
    state.dialogs.choices = files_beside(state.dialogs.path);
}

void ask_for_file(State& state, Dialog dialog, const std::string& path) {
    ask(state, dialog);
    state.dialogs.path = path;
    state.dialogs.choices = files_beside(path, ending_of(dialog));
}

void put_lesson_away(State& state) {
    const bool was_on_bench = put_lesson_away(state.bench, state.view, state.selection, state.lessons);
    if (was_on_bench && state.sheet == Sheet::lessons) state.sheet = Sheet::parts;
}

void show_sheet(State& state, Sheet sheet) {
    if (std::exchange(state.folds.column, false)) {
        state.sheet = sheet;
        return;
    }
    state.sheet = state.sheet == sheet ? Sheet::parts : sheet;
}

void go_to_bench(State& state, BenchList list) {
    put_lesson_away(state);
    state.bench.controls.turning = false;  // nobody would see it
    open_at_bench(state.screen, state.bench, state.at_bench, list);
}

void undo(State& state) {
    if (!state.bench.document().can_undo()) return;
    tell(state.screen, "Taken back: " + edit_words(state.bench.document().undo_label()));
    const head::Description before = state.bench.head();
    state.bench.undo();
    forget_renumbered(state.view, before, state.bench.head(), /*put_back=*/true);
    follow_parts(state.bench, state.selection, state.ledger);
}

void redo(State& state) {
    if (!state.bench.document().can_redo()) return;
    tell(state.screen, "Done again: " + edit_words(state.bench.document().redo_label()));
    const head::Description before = state.bench.head();
    state.bench.redo();
    forget_renumbered(state.view, before, state.bench.head(), /*put_back=*/true);
    follow_parts(state.bench, state.selection, state.ledger);
}

void advance(State& state, double seconds, double now) {
    const double since_last = now - std::exchange(state.screen.clock, now);
    advance(state.bench.controls, seconds);
    advance_lesson(state.bench, state.lessons, seconds);
    advance(state.view, seconds);
    mind_the_pace(state.view, moving(state), since_last);
    if (auto kept = keep_unsaved(state); !kept) tell(state.screen, kept.error());
    if (state.dialogs.open == Dialog::none && !state.left_work.empty()) ask(state, Dialog::left_work);
    Screen& screen = state.screen;
    if (!screen.notice.empty() && screen.clock > screen.notice_until) screen.notice.clear();
}

bool moving(const State& state) {
    return state.bench.controls.turning || state.view.move.has_value() || lesson_moves(state.lessons) ||
           (state.sheet == Sheet::questions && !state.folds.column &&
            std::ranges::any_of(state.questions, [](const Question& question) {
                return question.open && question.show > 0 && question.inquiry.outcome() && !question.inquiry.running();
            }));
}

namespace {

/// Readings of the open head are being fitted. Only their own page takes the outcome over: elsewhere it can wait.
bool fitting(const State& state) {
    const PlacesSheet& places = state.places;
    if (!places.at_work) return false;
    const bool shown = state.sheet == Sheet::measure && places.shown && !state.folds.column && !state.at_bench.open;
    return shown || !places.at_work->done();
}

}  // namespace

bool working(const State& state) {
    return state.sheet_writer.running() || answering(state.questions) || fitting(state);
}

}  // namespace swashwright::panels
