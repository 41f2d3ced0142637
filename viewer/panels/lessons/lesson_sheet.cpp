#include "viewer/panels/lessons/lesson_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <system_error>
#include <utility>

#include "kinematics/head/azimuth.h"
#include "kinematics/studies/live/live_angle.h"
#include "viewer/document/data_folder.h"
#include "viewer/draw/solids/anchors.h"

namespace swashwright::panels {

namespace {

void change_places(Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    if (!lessons.off_bench) return;
    std::swap(bench, lessons.off_bench->bench);
    std::swap(view, lessons.off_bench->view);
    std::swap(selection.selected, lessons.off_bench->selected);
    view.move.reset();
    selection.forget_rows();
    lessons.on_bench = !lessons.on_bench;
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
             mix(a.sticks.elevator, b.sticks.elevator), mix(a.sticks.rudder, b.sticks.rudder)},
            head::within_turn_deg(mix(a.azimuth_deg, b.azimuth_deg))};
}

void set_out(Bench& bench, Lessons& lessons, const scene::Step& step) {
    lessons.moving = step.to.has_value();
    lessons.seconds = 0;
    lessons.moved_to = {step.stance.sticks, head::within_turn_deg(step.stance.azimuth_deg)};
    bench.controls = Controls{};
    bench.controls.sticks = lessons.moved_to.sticks;
    bench.controls.azimuth_deg = lessons.moved_to.azimuth_deg;
    bench.controls.turning = step.rotor_rpm > 0;
    if (step.rotor_rpm > 0) bench.controls.turn_rpm = step.rotor_rpm;
}

/// The step's own head, at its stance, with nothing of what was done in another step.
void start_step(Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    const LessonFile& file = lessons.files[*lessons.open];
    const scene::Step& step = file.lesson->steps[lessons.step];
    bench.show(document_of(file, step));
    selection.forget_rows();
    selection.selected.reset();
    lessons.chosen.reset();
    if (step.whole_blades != view.whole_blades || step.from) lessons.look_from = true;
    view.whole_blades = step.whole_blades;
    view.exaggeration = step.exaggerate;
    view.hidden.clear();  // nothing that it speaks of is out of sight
    view.distances.clear();
    set_out(bench, lessons, step);
    lessons.fresh = true;
}

void finish(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    const scene::Lesson& lesson = *lessons.files[*lessons.open].lesson;
    std::string open;
    for (std::size_t i = 0; i < lesson.steps.size(); ++i)
        if ((lesson.steps[i].choice || lesson.steps[i].task) && !lessons.solved.contains(i) && open.empty())
            open = fmt::format("Not marked as done: step {} is still to be answered", i + 1);
    if (!open.empty())
        tell(screen, open);
    else if (screen.settings.lessons_done.insert(lesson.title).second)
        remember_settings(screen);
    close_lesson(bench, view, selection, lessons);
}

}  // namespace

const document::Document& users_document(const Bench& bench, const Lessons& lessons) {
    return (lessons.on_bench ? lessons.off_bench->bench : bench).document();
}

bool put_lesson_away(Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    if (!lessons.on_bench) return false;
    change_places(bench, view, selection, lessons);
    return true;
}

void follow_sheet(Bench& bench, View& view, Selection& selection, Lessons& lessons, bool shown) {
    if (shown && !lessons.read) read_lessons(lessons);
    const bool open = lessons.open.has_value() || lessons.practice.on();
    if (lessons.on_bench != (shown && open)) change_places(bench, view, selection, lessons);
}

void open_lesson(Bench& bench, View& view, Selection& selection, Lessons& lessons, std::size_t index) {
    close_lesson(bench, view, selection, lessons);
    if (index >= lessons.files.size() || !lessons.files[index].lesson) return;
    lessons.open = index;
    lessons.step = 0;
    lessons.solved.clear();
    const LessonFile& file = lessons.files[index];
    lessons.off_bench = OffBench{Bench(document_of(file, file.lesson->steps[0])), view, {}};
    change_places(bench, view, selection, lessons);
    bench.causes = studies::Causes::left_out;  // the lesson tells them, or asks
    start_step(bench, view, selection, lessons);
    lessons.look_from = true;
}

void start_practice(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons,
                    const document::Document& on, PracticeRound round) {
    Practice next = hide(on.head(), std::move(round));
    if (!next.on()) return tell(screen, next.said);
    show_practice(bench, view, selection, lessons, on, std::move(next));
}

void show_practice(Bench& bench, View& view, Selection& selection, Lessons& lessons, const document::Document& on,
                   Practice practice) {
    document::Document copy(on.scene(), on.path());  // `on` may go with the lesson that is closed
    close_lesson(bench, view, selection, lessons);
    lessons.practice = std::move(practice);
    lessons.off_bench = OffBench{Bench(std::move(copy)), view, {}};
    change_places(bench, view, selection, lessons);
    bench.causes = studies::Causes::left_out;
    view.exaggeration = 1;
    view.hidden.clear();  // those of the other head
    view.distances.clear();
    view.fit = Fit::moving;
}

void close_lesson(Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    if (lessons.on_bench) change_places(bench, view, selection, lessons);
    lessons.off_bench.reset();
    lessons.open.reset();
    lessons.practice = {};
    lessons.moving = false;
    lessons.fresh = true;
}

void next_step(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    if (!shown_step(lessons)) return;
    if (lessons.step + 1 == lessons.files[*lessons.open].lesson->steps.size())
        return finish(screen, bench, view, selection, lessons);
    ++lessons.step;
    start_step(bench, view, selection, lessons);
}

void step_before(Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    if (!shown_step(lessons) || lessons.step == 0) return;
    --lessons.step;
    start_step(bench, view, selection, lessons);
}

void show_again(Bench& bench, Lessons& lessons) {
    if (const scene::Step* step = shown_step(lessons)) set_out(bench, lessons, *step);
}

void show_way(Screen& screen, Bench& bench, const Lessons& lessons) {
    const scene::Step* step = shown_step(lessons);
    if (!step || !step->task) return;
    const scene::Lesson& lesson = *lessons.files[*lessons.open].lesson;
    const scene::Stance at = scene::stance_of(*step->task, step->stance);
    go_to(bench, at.sticks, at.azimuth_deg);
    scene::Scene next = bench.document().scene();
    next.head = scene::head_of(lesson, *step, step->task->way);
    try_edit(screen, bench, std::move(next), "show me");
}

void advance_lesson(Bench& bench, Lessons& lessons, double seconds) {
    if (!lessons.moving || !shown_step(lessons)) return;
    const scene::Step& step = *shown_step(lessons);
    lessons.moving = at(bench.controls, lessons.moved_to);
    if (!lessons.moving) return;
    lessons.seconds += seconds;
    const double there = (1 - std::cos(pi * lessons.seconds / step.seconds)) / 2;
    lessons.moved_to = between(step.stance, *step.to, there);
    bench.controls.sticks = lessons.moved_to.sticks;
    bench.controls.azimuth_deg = lessons.moved_to.azimuth_deg;
}

bool lesson_moves(const Lessons& lessons) {
    return lessons.on_bench && (lessons.moving || lessons.look_from);
}

void look_from_standpoint(const Screen& screen, const Bench& bench, View& view, Lessons& lessons, double aspect) {
    const scene::Step* step = shown_step(lessons);
    const auto& shown = bench.live().shown;
    if (!step || !lessons.look_from || !shown) return;
    lessons.look_from = false;
    const bool down = step->from && step->from->elevation_deg > 80;
    draw::Camera to =
        draw::camera_for(bench.head(), down ? draw::View::top : draw::View::corner, view.whole_blades, aspect);
    if (step->from) {
        to.azimuth_deg = step->from->bearing_deg;
        to.height_deg = step->from->elevation_deg;
        to.distance_mm /= step->from->closer;
        const draw::Style style{
            .exaggeration = view.exaggeration, .whole_blades = view.whole_blades, .touched = {}, .trouble = {}};
        if (const auto part = draw::part_of(step->from->part))
            if (const auto place = draw::anchor_of(*part, shown->description, shown->pose, style)) to.target = *place;
        if (const auto angle = studies::live_angle(shown->description, shown->pose, step->angle)) to.target = angle->at;
    } else {
        to.azimuth_deg = view.camera.azimuth_deg;
        to.height_deg = view.camera.height_deg;
    }
    move_camera(screen, view, to);
}

std::vector<draw::Part> lesson_parts(const Lessons& lessons) {
    std::vector<draw::Part> out;
    if (lessons.on_bench && lessons.practice.on())
        if (const auto chosen = draw::part_of(path_to_light(lessons.practice))) out.push_back(*chosen);
    const scene::Step* step = shown_step(lessons);
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

std::string lesson_angle(const Lessons& lessons) {
    const scene::Step* step = shown_step(lessons);
    return step ? step->angle : std::string();
}

const scene::Step* shown_step(const Lessons& lessons) {
    return lessons.on_bench && lessons.open ? &lessons.files[*lessons.open].lesson->steps[lessons.step] : nullptr;
}

bool step_solved(const Lessons& lessons) {
    const scene::Step* step = shown_step(lessons);
    return step && ((!step->choice && !step->task) || lessons.solved.contains(lessons.step));
}

}  // namespace swashwright::panels
