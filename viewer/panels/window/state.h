// All that the window keeps, each piece as the panels are given it, and what is done with several of them at once.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "viewer/document/recovery.h"
#include "viewer/panels/at_bench/at_bench.h"
#include "viewer/panels/base/screen.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/gauge.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/bench/wishes.h"
#include "viewer/panels/files/dialogs.h"
#include "viewer/panels/files/sheet_writer.h"
#include "viewer/panels/ledger/ledger.h"
#include "viewer/panels/lessons/lesson_sheet.h"
#include "viewer/panels/measure/measure_sheet.h"
#include "viewer/panels/measure/places_sheet.h"
#include "viewer/panels/picture/sights.h"
#include "viewer/panels/questions/compare_sheet.h"
#include "viewer/panels/questions/questions.h"
#include "viewer/panels/window/folds.h"
#include "viewer/panels/window/tray.h"
#include "viewer/panels/window/unsaved.h"

namespace swashwright::panels {

enum class Sheet { parts, questions, lessons, measure, compare };  // what the column shows

struct State {
    State(document::Document document, std::string report_path)
        : screen(std::move(report_path)), bench(std::move(document)) {}

    Screen screen;
    // What is open, and what was read of it.
    Bench bench;
    Gauge gauge;
    std::unique_ptr<document::Recovery> recovery;  // keeps what is not saved
    std::vector<document::LeftWork> left_work;     // of programs that came to a bad end, not asked about yet
    // How it is looked at.
    View view;
    Selection selection;
    Sights sights;
    // The sheets of the column, and what each keeps for itself.
    Sheet sheet = Sheet::parts;
    Ledger ledger;
    std::vector<Question> questions = all_questions();
    Lessons lessons;
    MeasureSheet measure;  // a new head from calliper readings
    PlacesSheet places;    // the open head, measured place by place
    CompareSheet compare;
    AtBench at_bench;  // all over the window while it is open
    // The window's own.
    Dialogs dialogs;
    std::string picture_folder;      // where a picture was saved last; empty: none was
    std::optional<Waiting> waiting;  // for unsaved work to be saved or given up
    Wishes wishes;
    SheetWriter sheet_writer;
    TrayFocus focus;
    Folds folds;
    float tools_height = 46;
    bool save_wanted = false;   // once the number that is being typed is taken
    bool close_wanted = false;  // likewise, and unless there is something to save
    bool leave = false;         // it closes now
};

/// A state for a document, at rest. `unsaved_folder`: where unsaved work is kept; empty: it is not.
State make_state(document::Document document, const std::string& settings_path, const std::string& report_path,
                 const std::string& unsaved_folder = {});

/// The parts again if it is shown already; a column that was folded away comes back with it.
void show_sheet(State& state, Sheet sheet);
/// Another head stands on the bench.
void show_document(State& state, document::Document document);
void ask(State& state, Dialog dialog);
void ask_for_file(State& state, Dialog dialog, const std::string& path);  // with this name in the dialog's field
/// Puts the user's head back on the bench, and the parts in place of an open lesson. Before anything opens, saves or
/// leaves.
void put_lesson_away(State& state);
/// The user's head step by step, all over the window.
void go_to_bench(State& state, BenchList list);
void undo(State& state);
void redo(State& state);
/// Moves what moves by itself; `seconds` since the last call, `now` on the program's clock.
void advance(State& state, double seconds, double now);
/// Something moves by itself, so the next frame differs from this one.
bool moving(const State& state);
/// Something is being worked out in the background.
bool working(const State& state);

}  // namespace swashwright::panels
