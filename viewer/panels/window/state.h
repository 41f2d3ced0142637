// Everything that the window knows, passed from panel to panel.
#pragma once

#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "viewer/document/document.h"
#include "viewer/document/recovery.h"
#include "viewer/document/settings.h"
#include "viewer/draw/base/camera.h"
#include "viewer/draw/base/part.h"
#include "viewer/draw/lines/in_sight.h"
#include "viewer/draw/picture/picture.h"
#include "viewer/panels/base/file_list.h"
#include "viewer/panels/base/layout.h"
#include "viewer/panels/base/theme.h"
#include "viewer/panels/base/typing.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/files/bench_readings.h"
#include "viewer/panels/files/sheet_writer.h"
#include "viewer/panels/ledger/ledger_rows.h"
#include "viewer/panels/ledger/part_form.h"
#include "viewer/panels/lessons/lesson_sheet.h"
#include "viewer/panels/measure/measure_sheet.h"
#include "viewer/panels/picture/gap_watch.h"
#include "viewer/panels/picture/picture_extras.h"
#include "viewer/panels/picture/pointing.h"
#include "viewer/panels/picture/readout.h"
#include "viewer/panels/questions/compare_sheet.h"
#include "viewer/panels/questions/questions.h"
#include "viewer/panels/window/report.h"
#include "viewer/panels/window/unsaved.h"

namespace swashwright::panels {

/// A camera on its way.
struct CameraMove {
    draw::Camera from, to;
    double seconds = 0;  // gone by; a move takes `camera_seconds`
};
inline constexpr double camera_seconds = 0.25;

/// What the camera was sent to frame.
struct Framed {
    draw::Camera camera;
    double aspect = 1;
    bool turning = false, paths = false, as_meant = false;

    bool operator==(const Framed&) const = default;
};

enum class Fit { none, moving, at_once };

struct View {
    draw::Camera camera;
    std::optional<CameraMove> move;
    double exaggeration = 1;  // 1 to 20
    bool whole_blades = false;
    bool paths = false;        // of balls and blade tips over a turn
    bool as_meant = false;     // the head without its errors, as outlines
    double frame_seconds = 0;  // while something moves, smoothed
    bool hurried = false;      // frames come too slowly: until all stands still, hollows go without their shade
    bool cut = false;          // open through the shaft, towards the viewer
    bool names = false;        // of every part in sight, in the margins
    Fit fit = Fit::at_once;    // asked for; done as soon as the picture's size is known
    std::optional<Framed> framed;
    std::optional<draw::View> view_wanted;
};

enum class TrayFocus { pad, collective, azimuth };                 // what the arrow keys move
enum class Sheet { parts, questions, lessons, measure, compare };  // what the column shows
enum class Dialog {
    none,
    safety,
    about,
    open,
    save,
    unsaved,
    left_work,
    compare,
    sheet,
    read,
    save_gauge,
    save_calliper
};

struct State {
    State(document::Document open_document, std::string report_path)
        : document(std::move(open_document)), report(std::move(report_path)) {}

    document::Document document;
    document::Settings settings;
    std::unique_ptr<document::Recovery> recovery;  // keeps what is not saved
    std::vector<document::LeftWork> left_work;     // of programs that came to a bad end, not asked about yet
    std::string settings_path;
    Report report;
    Controls controls;
    View view;
    Follower follower;
    std::vector<Section> ledger;
    Sheet sheet = Sheet::parts;
    std::vector<Question> questions = all_questions();
    BenchReadings readings;
    std::uint64_t readings_revision = 1;
    std::uint64_t readings_saved = 1;  // the revision that is in a file
    std::string readings_path;         // of that file; empty: none
    std::string readings_note;         // what it says of itself
    std::string readings_said;         // what came of saving or reading
    CompareSheet compare;
    MeasureSheet measure;  // a new head from calliper readings
    Lessons lessons;
    SheetWriter sheet_writer;
    PartForm form;  // what the ledger has no room for

    std::optional<draw::Part> selected;  // clicked: stays
    std::optional<draw::Part> hovered;   // under the pointer in the ledger, this frame
    Pointing pointing;                   // what it rests on in the picture
    draw::InSight in_sight;              // as the picture was drawn last
    std::optional<ImVec2> click;         // in the picture, not yet turned into a part; pixels from its top left
    PictureExtras extras;
    GapWatch gap;                // between the two parts of the row that was chosen
    bool focus_ledger = false;   // the keyboard goes to the first number in sight
    bool show_selected = false;  // bring the selected part's row into sight
    TrayFocus tray_focus = TrayFocus::pad;

    Dialog dialog = Dialog::none;
    bool dialog_opening = false;  // it was asked for and is not drawn yet
    std::string dialog_path;
    std::vector<FileChoice> dialog_choices;  // what stands in the same folder
    std::string dialog_error;
    std::string replace_path;        // an existing file that may be replaced: the user has been told
    std::optional<Waiting> waiting;  // for unsaved work to be saved or given up
    std::string notice;              // "Saved as ...": shown beside the tools
    double notice_until = 0;         // seconds of the program's clock
    double clock = 0;                // seconds since the start
    bool tip_pending = false;        // the pointer rests on something that has a tip to show soon
    bool settle = false;             // something came by itself: ImGui needs another frame or two to lay it out
    bool save_wanted = false;        // once the number that is being typed is taken
    bool close_wanted = false;       // likewise, and unless there is something to save
    bool leave = false;              // it closes now

    Fonts fonts;
    Typing typing;
    float screen_scale = 1;   // of the monitor: 2 where its pixels are half as wide as usual
    float scale_most = 1.5F;  // larger text would not fit into the window
    float tools_height = 46;
    bool look_stale = true;  // text scale or day and night changed
    long scenes_opened = 1;  // tells one scene from the next where revisions start again

    const Readout& live() const { return follower.readout(); }
    float scale() const { return std::min(screen_scale * static_cast<float>(settings.text_scale), scale_most); }
    Inks inks() const { return panels::inks(settings.night); }
    /// What is lit: the row under the pointer, else the part that was clicked.
    std::optional<draw::Part> touched() const { return hovered ? hovered : selected; }
};

/// A state for a document, at rest. `unsaved_folder`: where unsaved work is kept; empty: it is not.
State make_state(document::Document document, const std::string& settings_path, const std::string& report_path,
                 const std::string& unsaved_folder = {});

// What panels and shortcuts ask for; each does one thing to the state.
void show_sheet(State& state, Sheet sheet);  // the parts again if it is shown already
/// Another head is in `document`, and its revisions count from where they like: nothing that was worked out for the
/// last one may pass for this one's.
void head_replaced(State& state);
/// Another head stands on the bench; what was measured or answered for the last one goes.
void show_document(State& state, document::Document document);
void ask(State& state, Dialog dialog);
void ask_for_file(State& state, Dialog dialog, const std::string& path);  // with this name in the dialog's field
/// Puts another scene in place of the document's, as one step of undo; while `run`, edits of the same name are one step
/// together. What the scene rules refuse changes nothing: `state.form` then says why, under that name.
bool try_edit(State& state, scene::Scene next, const std::string& name, bool run = false);
/// What was typed into the field of this name changes nothing, and this is why.
void refuse(State& state, const std::string& name, std::string why);
/// The rows of the ledger again, and what hangs on them, if the head has other parts than before.
void follow_parts(State& state);
void undo(State& state);
void redo(State& state);
void centre_sticks(State& state);
void hold_back(State& state);  // sticks that a hand has moved: to what the scene's transmitter lets through
void go_to(State& state, const head::Sticks& sticks, double azimuth_deg);
/// From 1 to what fits into the window, at most 2.
void set_text_scale(State& state, double scale);
void next_text_scale(State& state);  // after the largest comes the smallest
/// How much larger than usual the monitor wants text, rules and what can be hit; to the nearest quarter.
void set_screen_scale(State& state, float scale);
/// Keeps text small enough for a window of this width.
void limit_text_scale(State& state, float window_width);
void set_night(State& state, bool night);
void set_inches(State& state, bool inches);  // for reading; scenes stay in mm
void remember_settings(State& state);        // in the user's state folder; tells if that fails
void tell(State& state, std::string notice);
void move_camera(State& state, const draw::Camera& to);
/// Moves what moves by itself; `seconds` since the last call, `now` on the program's clock.
void advance(State& state, double seconds, double now);
/// Something moves by itself, so the next frame differs from this one.
bool moving(const State& state);

}  // namespace swashwright::panels
