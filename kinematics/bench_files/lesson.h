// Lesson files, format 1 (TOML): what is told step by step, on which head, and what is asked. Keys: DEVELOPERS.md.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kinematics/scene/scene.h"
#include "kinematics/studies/live/live_value.h"

namespace swashwright::scene {

/// One number of the head that is other than in the scene, by its path: "upper_link[2].error_mm". Apart from the
/// numbers of `head::parameters` there is "servo[1].raise" (1 or -1): a servo that is driven the wrong way round.
struct Setting {
    std::string number;
    double to = 0;
};

/// Where the sticks and the rotor stand.
struct Stance {
    head::Sticks sticks;
    double azimuth_deg = 0;
};

/// Where the eye stands, as draw::Camera has it.
struct Standpoint {
    double bearing_deg = 0;    // from the nose, positive anticlockwise seen from above
    double elevation_deg = 0;  // above the horizon, -89 to 89
    double closer = 1;         // 1 to 8: times nearer than where the whole head fills the picture
    std::string part;          // looked at; empty for the middle of the head
};

struct Choice {
    std::string question;
    std::vector<std::string> answers;
    std::size_t right = 0;  // from 0
    std::string because;    // said once it is answered
};

/// Something to do on the head. With `change` the goals are judged where the step's sticks and rotor stand, else where
/// the learner's do.
struct Task {
    std::string words;
    std::vector<std::string> change;  // the numbers that the learner may set, by path
    std::vector<studies::Goal> goals;
    std::string done;          // said once all goals hold
    std::vector<Setting> way;  // that meets them: numbers, or "collective" ... "rudder", "azimuth_deg"
};

/// A statement of the step's text that the tests check: `goal` holds there, on the step's head with `set`.
struct Claim {
    std::string says;  // the words of the text, or of the answer to a question, that it stands behind
    studies::Goal goal;
    Stance at;
    std::vector<Setting> set;
};

struct Step {
    std::string text;                // paragraphs parted by an empty line
    std::string source;              // of what the text says beyond the numbers of this head; shown small under it
    std::optional<Standpoint> from;  // none: the camera stays
    Stance stance;
    std::optional<Stance> to;  // sticks and rotor go slowly there and back
    double seconds = 3;        // one way
    double rotor_rpm = 0;      // not 0: the rotor turns
    double exaggerate = 1;     // 1 to 20: how much larger than true pitch differences are drawn
    bool whole_blades = false;
    std::vector<std::string> lit;  // parts, by scene path
    std::string angle;             // a value between two directions: drawn as an arc, and looked at; empty for none
    std::vector<Setting> set;      // beyond the lesson's
    std::string drawing;           // name of a line drawing that stands in for a model; empty for none
    std::optional<Choice> choice;
    std::optional<Task> task;
    std::vector<Claim> claims;
};

struct Lesson {
    std::string title;
    int order = 0;
    std::string note;        // shown on the list
    std::string scene_file;  // as written, relative to the lesson
    Scene scene;             // as that file has it
    std::vector<Setting> set;
    std::vector<Step> steps;  // at least one
};

/// The line drawings that a step may name.
inline constexpr const char* drawings[] = {"plain head", "stabiliser bar", "mixing lever"};

/// Reads a lesson and the scene that it stands on, which is looked for beside `file`. Reports every mistake, names of
/// numbers, values and parts that the scene's head does not have included.
Result<Lesson> parse_lesson(std::string_view text, std::string file);
Result<Lesson> load_lesson(const std::string& path);

/// A stance with what a task's way says of sticks and rotor.
Stance stance_of(const Task& task, Stance from);
/// The head of a step: the scene's with the lesson's settings, then the step's, then `more`.
head::Description head_of(const Lesson& lesson, const Step& step, const std::vector<Setting>& more = {});

}  // namespace swashwright::scene
