#include "viewer/panels/lessons/lesson_sheet.h"
#include "viewer/document/data_folder.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <system_error>
#include <utility>

#include "kinematics/head/azimuth.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/questions/answer_table.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

/// A document and how it was looked at.
struct Bench {
    document::Document document;
    Controls controls;
    View view;
    std::optional<draw::Part> selected;
    std::vector<Section> ledger;
};

Lessons::Lessons() = default;
Lessons::~Lessons() = default;
Lessons::Lessons(Lessons&&) noexcept = default;
Lessons& Lessons::operator=(Lessons&&) noexcept = default;

namespace {

void change_places(State& state) {
    Lessons& lessons = state.lessons;
    if (!lessons.other) return;
    Bench& other = *lessons.other;
    std::swap(state.document, other.document);
    std::swap(state.controls, other.controls);
    std::swap(state.view, other.view);
    std::swap(state.selected, other.selected);
    std::swap(state.ledger, other.ledger);
    state.view.move.reset();
    lessons.on_bench = !lessons.on_bench;
    head_replaced(state);
}

void read_lessons(Lessons& lessons) {
    lessons.read = true;
    std::error_code none;
    for (const auto& entry : std::filesystem::directory_iterator(document::scenes_folder() / "lessons", none)) {
        if (entry.path().extension() != ".toml") continue;
        LessonFile& file = lessons.files.emplace_back();
        file.path = entry.path().string();
        if (auto lesson = scene::load_lesson(file.path))
            file.lesson = std::move(*lesson);
        else
            file.mistakes = lesson.error().text();
    }
    std::ranges::sort(lessons.files, {}, [](const LessonFile& file) {
        return std::pair(file.lesson ? file.lesson->order : 1001, file.path);
    });
}

document::Document document_of(const LessonFile& file, const scene::Step& step) {
    scene::Scene scene = file.lesson->scene;
    scene.head = scene::head_of(*file.lesson, step);
    return {std::move(scene), file.path};
}

bool at(const Controls& controls, const scene::Stance& stance) {
    return controls.sticks == stance.sticks && controls.azimuth_deg == stance.azimuth_deg;
}

scene::Stance between(const scene::Stance& a, const scene::Stance& b, double t) {
    const auto mix = [t](double from, double to) { return from + t * (to - from); };
    return {{mix(a.sticks.collective, b.sticks.collective), mix(a.sticks.aileron, b.sticks.aileron),
             mix(a.sticks.elevator, b.sticks.elevator)},
            head::within_turn_deg(mix(a.azimuth_deg, b.azimuth_deg))};
}

void set_out(State& state, const scene::Step& step) {
    Lessons& lessons = state.lessons;
    lessons.moving = step.to.has_value();
    lessons.seconds = 0;
    lessons.moved_to = {step.stance.sticks, head::within_turn_deg(step.stance.azimuth_deg)};
    state.controls = Controls{};
    state.controls.sticks = lessons.moved_to.sticks;
    state.controls.azimuth_deg = lessons.moved_to.azimuth_deg;
    state.controls.turning = step.rotor_rpm > 0;
    if (step.rotor_rpm > 0) state.controls.turn_rpm = step.rotor_rpm;
}

/// The step's own head, at its stance, with nothing of what was done in another step.
void start_step(State& state) {
    Lessons& lessons = state.lessons;
    const LessonFile& file = lessons.files[*lessons.open];
    const scene::Step& step = file.lesson->steps[lessons.step];
    state.document = document_of(file, step);
    head_replaced(state);
    state.ledger = ledger_sections(state.document.head());
    state.selected.reset();
    lessons.chosen.reset();
    if (step.whole_blades != state.view.whole_blades || step.from) lessons.look_from = true;
    state.view.whole_blades = step.whole_blades;
    state.view.exaggeration = step.exaggerate;
    set_out(state, step);
    lessons.fresh = true;
}

void finish(State& state) {
    Lessons& lessons = state.lessons;
    const scene::Lesson& lesson = *lessons.files[*lessons.open].lesson;
    std::string open;
    for (std::size_t i = 0; i < lesson.steps.size(); ++i)
        if ((lesson.steps[i].choice || lesson.steps[i].task) && !lessons.solved.contains(i) && open.empty())
            open = fmt::format("Not marked as done: step {} is still to be answered", i + 1);
    if (!open.empty())
        tell(state, open);
    else if (state.settings.lessons_done.insert(lesson.title).second)
        remember_settings(state);
    close_lesson(state);
}

}  // namespace

const document::Document& users_document(const State& state) {
    return state.lessons.on_bench ? state.lessons.other->document : state.document;
}

void put_lesson_away(State& state) {
    if (!state.lessons.on_bench) return;
    change_places(state);
    if (state.sheet == Sheet::lessons) state.sheet = Sheet::parts;
}

void follow_sheet(State& state) {
    Lessons& lessons = state.lessons;
    if (state.sheet == Sheet::lessons && !lessons.read) read_lessons(lessons);
    if (lessons.on_bench != (state.sheet == Sheet::lessons && lessons.open.has_value())) change_places(state);
}

void open_lesson(State& state, std::size_t index) {
    Lessons& lessons = state.lessons;
    close_lesson(state);
    if (index >= lessons.files.size() || !lessons.files[index].lesson) return;
    lessons.open = index;
    lessons.step = 0;
    lessons.solved.clear();
    lessons.other = std::make_unique<Bench>(Bench{
        document_of(lessons.files[index], lessons.files[index].lesson->steps[0]), Controls{}, state.view, {}, {}});
    state.sheet = Sheet::lessons;
    change_places(state);
    start_step(state);
    lessons.look_from = true;
}

void close_lesson(State& state) {
    Lessons& lessons = state.lessons;
    if (lessons.on_bench) change_places(state);
    lessons.other.reset();
    lessons.open.reset();
    lessons.moving = false;
    lessons.fresh = true;
}

void next_step(State& state) {
    Lessons& lessons = state.lessons;
    if (!lessons.on_bench) return;
    if (lessons.step + 1 == lessons.files[*lessons.open].lesson->steps.size()) return finish(state);
    ++lessons.step;
    start_step(state);
}

void step_before(State& state) {
    Lessons& lessons = state.lessons;
    if (!lessons.on_bench || lessons.step == 0) return;
    --lessons.step;
    start_step(state);
}

void show_again(State& state) {
    if (const scene::Step* step = shown_step(state)) set_out(state, *step);
}

void show_way(State& state) {
    const scene::Step* step = shown_step(state);
    if (!step || !step->task) return;
    const scene::Lesson& lesson = *state.lessons.files[*state.lessons.open].lesson;
    const scene::Stance at = scene::stance_of(*step->task, step->stance);
    go_to(state, at.sticks, at.azimuth_deg);
    scene::Scene next = state.document.scene();
    next.head = scene::head_of(lesson, *step, step->task->way);
    state.document.edit(std::move(next), "show me");
    state.document.seal();
}

void advance_lesson(State& state, double seconds) {
    Lessons& lessons = state.lessons;
    if (!lessons.moving || !lessons.on_bench) return;
    const scene::Step& step = *shown_step(state);
    lessons.moving = at(state.controls, lessons.moved_to);
    if (!lessons.moving) return;
    lessons.seconds += seconds;
    const double there = (1 - std::cos(pi * lessons.seconds / step.seconds)) / 2;
    lessons.moved_to = between(step.stance, *step.to, there);
    state.controls.sticks = lessons.moved_to.sticks;
    state.controls.azimuth_deg = lessons.moved_to.azimuth_deg;
}

bool lesson_moves(const State& state) {
    return state.lessons.on_bench && (state.lessons.moving || state.lessons.look_from);
}

void look_from_standpoint(State& state, double aspect) {
    const scene::Step* step = shown_step(state);
    const auto& shown = state.live().shown;
    if (!step || !state.lessons.look_from || !shown) return;
    state.lessons.look_from = false;
    const bool down = step->from && step->from->elevation_deg > 80;
    draw::Camera to = draw::camera_for(state.document.head(), down ? draw::View::top : draw::View::corner,
                                       state.view.whole_blades, aspect);
    if (step->from) {
        to.azimuth_deg = step->from->bearing_deg;
        to.height_deg = step->from->elevation_deg;
        to.distance_mm /= step->from->closer;
        if (const auto part = draw::part_of(step->from->part))
            if (const auto place = draw::anchor_of(*part, shown->description, shown->pose, picture_style(state)))
                to.target = *place;
    } else {
        to.azimuth_deg = state.view.camera.azimuth_deg;
        to.height_deg = state.view.camera.height_deg;
    }
    move_camera(state, to);
}

std::vector<draw::Part> lesson_parts(const State& state) {
    std::vector<draw::Part> out;
    const scene::Step* step = shown_step(state);
    if (!step) return out;
    for (const std::string& path : step->lit) {
        const auto part = draw::part_of(path);
        if (!part) continue;
        out.push_back(*part);
        if (part->role == head::Role::servo) out.push_back({head::Role::horn, part->index});
        if (part->role == head::Role::driver) out.push_back({head::Role::driver, part->index + 1});
    }
    return out;
}

const scene::Step* shown_step(const State& state) {
    const Lessons& lessons = state.lessons;
    return lessons.on_bench && lessons.open ? &lessons.files[*lessons.open].lesson->steps[lessons.step] : nullptr;
}

bool step_solved(const State& state) {
    const scene::Step* step = shown_step(state);
    return step && ((!step->choice && !step->task) || state.lessons.solved.contains(state.lessons.step));
}

}  // namespace swashwright::panels
