// The lessons: which there are, which is open at which step, and what the user had open meanwhile.
#pragma once

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "kinematics/bench_files/lesson.h"
#include "viewer/draw/base/part.h"

namespace swashwright::document {
class Document;
}

namespace swashwright::panels {

struct State;
struct Bench;  // a document and how it was looked at

/// A lesson file, read when the sheet is first shown.
struct LessonFile {
    std::string path;
    std::optional<scene::Lesson> lesson;
    std::string mistakes;  // why there is none
};

struct Lessons {
    Lessons();
    ~Lessons();
    Lessons(Lessons&&) noexcept;
    Lessons& operator=(Lessons&&) noexcept;

    bool read = false;
    std::vector<LessonFile> files;      // in the order of the lessons
    std::optional<std::size_t> open;    // index of the lesson that is open
    std::size_t step = 0;               // of it
    std::set<std::size_t> solved;       // its steps whose question is answered
    std::optional<std::size_t> chosen;  // the answer picked last in this step
    bool look_from = false;             // the camera goes to the step's standpoint once the picture's size is known
    /// While the sheet shows an open lesson, what the user had open; otherwise the lesson's own head, if any is open.
    /// The two change places as the sheet comes and goes, so at any other time `State::document` is the user's.
    std::unique_ptr<Bench> other;
    bool on_bench = false;  // the lesson's head is the one in `State::document`
    bool fresh = false;     // another page: it is scrolled to its top

    bool moving = false;     // sticks and rotor go there and back
    double seconds = 0;      // since they set out
    scene::Stance moved_to;  // where they were put last: elsewhere the learner has taken over
};

/// The user's own document, whether or not a lesson's head is shown in its place.
const document::Document& users_document(const State& state);

/// Puts the user's document back; the lesson stays open where it is. Call before anything opens, saves or leaves.
void put_lesson_away(State& state);
/// Brings the shown document in step with the sheet; call once a frame, before anything is drawn.
void follow_sheet(State& state);
void open_lesson(State& state, std::size_t index);
void close_lesson(State& state);
/// To the next step, and after the last back to the list; to the one before. Nothing if no lesson is shown.
void next_step(State& state);
void step_before(State& state);
/// Sticks and rotor set out once more.
void show_again(State& state);
/// Does what the step's task asks for.
void show_way(State& state);
/// Moves sticks and rotor of the open lesson.
void advance_lesson(State& state, double seconds);
bool lesson_moves(const State& state);
/// Sends the camera to the step's standpoint, if it is wanted.
void look_from_standpoint(State& state, double aspect);
/// The parts that the step lights.
std::vector<draw::Part> lesson_parts(const State& state);

/// The step that is shown; null if none is.
const scene::Step* shown_step(const State& state);
/// The open question is answered, or the step has none.
bool step_solved(const State& state);

}  // namespace swashwright::panels
