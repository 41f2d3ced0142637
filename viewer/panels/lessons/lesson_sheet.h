// The lessons: which there are, which is open at which step, and what the user had open meanwhile.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "kinematics/bench_files/lesson.h"
#include "viewer/panels/bench/bench.h"
#include "viewer/panels/bench/selection.h"
#include "viewer/panels/bench/view.h"
#include "viewer/panels/lessons/practice.h"
#include "viewer/panels/lessons/track_page.h"

namespace swashwright::panels {

/// A lesson file, read when the sheet is first shown.
struct LessonFile {
    std::string path;
    std::optional<scene::Lesson> lesson;
    std::string mistakes;  // why there is none
};

/// A head and how it is looked at, while it is not on the bench.
struct OffBench {
    Bench bench;
    View view;
    std::optional<draw::Part> selected;
};

struct Lessons {
    bool read = false;
    std::vector<LessonFile> files;      // in the order of the lessons
    std::optional<std::size_t> open;    // index of the lesson that is open
    std::size_t step = 0;               // of it
    std::set<std::size_t> solved;       // its steps whose question is answered
    std::optional<std::size_t> chosen;  // the answer picked last in this step
    bool one_at_a_time = false;         // that list is asked for in large letters
    bool crash_list = false;            // while no lesson is open: the ticks for after a crash, not the lessons
    std::map<std::string, std::string> crash_cleared;  // ticks that Start anew took out, to be brought back
    std::string crash_cleared_of;                      // of which head
    bool practice_list = false;                        // while no lesson is open: which fault to look for
    Practice practice;                                 // a round of it stands on a head of its own, as a lesson does
    bool track_page = false;                           // while no lesson is open: the blades' tips in flight
    TrackPage track;                                   // of the user's own head
    bool look_from = false;  // the camera goes to the step's standpoint once the picture's size is known
    /// While the lesson's head is on the bench, what the user had there; else the lesson's own, if any is open. The two
    /// change places as the sheet comes and goes, so at any other time the bench is the user's.
    std::optional<OffBench> off_bench;
    bool on_bench = false;  // the lesson's head is
    bool fresh = false;     // another page: it is scrolled to its top

    bool moving = false;     // sticks and rotor go there and back
    double seconds = 0;      // since they set out
    scene::Stance moved_to;  // where they were put last: elsewhere the learner has taken over
};

/// The user's own document, whether or not a lesson's head is shown in its place.
const document::Document& users_document(const Bench& bench, const Lessons& lessons);

/// Puts the user's head back on the bench; the lesson stays open where it is. True if it was not there.
bool put_lesson_away(Bench& bench, View& view, Selection& selection, Lessons& lessons);
/// Brings the bench in step with the sheet, which is `shown` or not; call once a frame, before anything is drawn.
void follow_sheet(Bench& bench, View& view, Selection& selection, Lessons& lessons, bool shown);
void open_lesson(Bench& bench, View& view, Selection& selection, Lessons& lessons, std::size_t index);
/// A round of practice on a copy of this scene's head: one fault is hidden in it. Tells why not, and leaves all as it
/// is, where none can be.
void start_practice(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons,
                    const document::Document& on, PracticeRound round);
/// A round that was begun goes on, on a copy of this scene's head.
void show_practice(Bench& bench, View& view, Selection& selection, Lessons& lessons, const document::Document& on,
                   Practice practice);
/// Ends an open lesson, or a round of practice.
void close_lesson(Bench& bench, View& view, Selection& selection, Lessons& lessons);
/// To the next step, and after the last back to the list; to the one before. Nothing if no lesson is shown.
void next_step(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons);
void step_before(Bench& bench, View& view, Selection& selection, Lessons& lessons);
/// Sticks and rotor set out once more.
void show_again(Bench& bench, Lessons& lessons);
/// Does what the step's task asks for.
void show_way(Screen& screen, Bench& bench, const Lessons& lessons);
/// Moves sticks and rotor of the open lesson.
void advance_lesson(Bench& bench, Lessons& lessons, double seconds);
bool lesson_moves(const Lessons& lessons);
/// Sends the camera to the step's standpoint, if it is wanted.
void look_from_standpoint(const Screen& screen, const Bench& bench, View& view, Lessons& lessons, double aspect);
/// The parts that the step speaks of.
std::vector<draw::Part> lesson_parts(const Lessons& lessons);

/// The value whose angle the step speaks of; empty: none.
std::string lesson_angle(const Lessons& lessons);

/// The step that is shown; null if none is.
const scene::Step* shown_step(const Lessons& lessons);
/// The open question is answered, or the step has none.
bool step_solved(const Lessons& lessons);

}  // namespace swashwright::panels
