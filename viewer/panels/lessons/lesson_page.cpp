// The sheet of lessons: the list, or one step with its text and its question.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/numbers.h"
#include "kinematics/studies/answer/link_step.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/ledger/part_form.h"
#include "viewer/panels/lessons/crash_page.h"
#include "viewer/panels/lessons/lesson_drawings.h"
#include "viewer/panels/lessons/lesson_page.h"
#include "viewer/panels/lessons/lesson_rows.h"
#include "viewer/panels/lessons/practice_page.h"

namespace swashwright::panels {

namespace {

void paragraphs(ImU32 colour, const std::string& text) {
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find("\n\n", at), text.size());
        paragraph(colour, text.substr(at, end - at));
        ImGui::Spacing();
        at = end + 2;
    }
}

void draw_choice(Screen& screen, Lessons& lessons, const scene::Choice& choice) {
    const Inks ink = screen.inks();
    const bool solved = step_solved(lessons);
    paragraph(ink.ink, choice.question);
    for (std::size_t i = 0; i < choice.answers.size(); ++i) {
        const bool picked = lessons.chosen == i;
        const Mark mark = (picked || solved) && i == choice.right ? Mark::tick : picked ? Mark::cross : Mark::none;
        if (!row_button(screen, fmt::format("answer {}", i + 1), choice.answers[i], mark)) continue;
        lessons.chosen = i;
        if (i == choice.right) lessons.solved.insert(lessons.step);
    }
    ImGui::Spacing();
    if (step_solved(lessons))
        paragraph(ink.ink, "Right. " + choice.because);
    else if (lessons.chosen)
        paragraph(ink.ink, "Not that one. Look once more, then pick another.");
    if (lessons.chosen || step_solved(lessons)) screen.report.item("answer said");
}

void change_number(Screen& screen, Bench& bench, const head::Number& number, double to) {
    scene::Scene next = bench.document().scene();
    head::value(next.head, number) = to;
    try_edit(screen, bench, std::move(next), number.label, /*run=*/true);
}

/// A servo that can be driven the other way round.
bool draw_reverse(Screen& screen, Bench& bench, const std::string& path) {
    if (!path.ends_with(".raise")) return false;
    const auto& servos = bench.head().servos;
    for (std::size_t j = 0; j < servos.size(); ++j) {
        if (path != fmt::format("servo[{}].raise", j + 1)) continue;
        const int sense = bench.live().head ? (bench.live().head->raise_signs()[j] > 0 ? 1 : -1) : 1;
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted(fmt::format("Servo {}", servos[j].name).c_str());
        ImGui::SameLine(170 * screen.scale());
        if (word_button(screen, path.c_str(), "Reverse", "Drives this servo the other way round")) {
            scene::Scene next = bench.document().scene();
            next.head.servos[j].raise = -sense;
            try_edit(screen, bench, std::move(next), "reverse a servo");
        }
    }
    return true;
}

struct StepWords {
    double by = 0;
    std::string less, more, tip;
};

/// "−0.5°" and "+0.5°", which need no tip.
StepWords plain_step(double by, const char* unit) {
    return {by, fmt::format("\xE2\x88\x92{:g}{}", by, unit), fmt::format("+{:g}{}", by, unit), {}};
}

StepWords step_of(const head::Description& head, const head::Number& number) {
    if (const head::Link* link = head::link_of(head, number)) {
        const studies::LinkStep step = studies::link_step(*link);
        return {step.mm, "Shorter", "Longer", fmt::format("One {}, {:.2f} mm", step.one, step.mm)};
    }
    for (std::size_t j = 0; j < head.servos.size(); ++j) {
        const int teeth = head.servos[j].spline_teeth;
        if (teeth <= 0 || number.path != fmt::format("servo[{}].neutral_deg", j + 1)) continue;
        // The output shaft points at who looks on the horn's face, so its angle grows anticlockwise.
        return {360.0 / teeth, "Clockwise", "Anticlockwise",
                fmt::format("One tooth, {:.2f} deg, seen on the horn's face", 360.0 / teeth)};
    }
    if (number.unit == head::Unit::mm) return plain_step(0.1, " mm");
    return plain_step(0.5, number.unit == head::Unit::deg ? "\xC2\xB0" : "");
}

/// "upper link 2, length, mm".
std::string number_name(const head::Number& number, bool inches) {
    if (number.unit == head::Unit::none) return number.label;
    const char* unit = number.unit == head::Unit::deg ? "\xC2\xB0" : inches ? "in" : "mm";
    return fmt::format("{}, {}", number.label, unit);
}

/// With the gap before it.
float button_width(const std::string& word) {
    const ImGuiStyle& style = ImGui::GetStyle();
    return ImGui::CalcTextSize(word.c_str()).x + 2 * style.FramePadding.x + style.ItemSpacing.x;
}

/// What the learner may set: name, number, a step each way.
void draw_change(Screen& screen, Bench& bench, const std::string& path) {
    if (draw_reverse(screen, bench, path)) return;
    const auto numbers = head::numbers(bench.head());
    const auto number = std::ranges::find(numbers, path, &head::Number::path);
    if (number == numbers.end()) return;
    StepWords step = step_of(bench.head(), *number);
    for (std::string* words : {&step.less, &step.more, &step.tip})
        *words = lengths_read(std::move(*words), screen.settings.inches);
    const char* tip_words = step.tip.empty() ? nullptr : step.tip.c_str();
    const bool length = number->unit == head::Unit::mm;
    double value = head::value(bench.head(), *number);
    ImGui::PushID(path.c_str());
    ImGui::AlignTextToFramePadding();
    const std::string name = number_name(*number, screen.settings.inches);
    ImGui::TextUnformatted(name.c_str());
    // All below its name where no room is left beside it.
    const float scale = screen.scale();
    const float controls = 84 * scale + button_width(step.less) + button_width(step.more);
    const float beside = std::max(200 * scale, ImGui::CalcTextSize(name.c_str()).x + 24 * scale);
    if (beside + controls <= ImGui::GetContentRegionMax().x) ImGui::SameLine(beside);
    if (number_field(screen, "value", value, {.step = step.by, .width = 84, .length = length}))
        change_number(screen, bench, *number, value);
    screen.report.item(path);
    ImGui::SameLine();
    if (word_button(screen, (path + " less").c_str(), step.less.c_str(), tip_words))
        change_number(screen, bench, *number, value - step.by);
    same_line_if_it_fits(step.more.c_str(), ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, (path + " more").c_str(), step.more.c_str(), tip_words))
        change_number(screen, bench, *number, value + step.by);
    ImGui::PopID();
    draw_refusal(screen, bench, number->label);
}

/// How far a goal is: "ring tilt: now 1.20 deg, wanted 0.00 deg, within 0.10 deg".
void draw_goal(const Screen& screen, const Bench& bench, const studies::Goal& goal, const head::Sticks& sticks,
               double azimuth_deg) {
    const Inks ink = screen.inks();
    const float scale = screen.scale();
    const studies::ValueWords words = studies::value_words(bench.head(), goal.value);
    const auto value = bench.live().head && bench.live().closes
                           ? studies::live_value(*bench.live().head, sticks, azimuth_deg, goal.value)
                           : tl::unexpected(std::string("the links do not reach"));
    const bool there = value && std::abs(*value - goal.wanted) <= goal.within;
    const std::string unit = words.unit.empty() ? "" : " " + words.unit;
    // Without the minus that a rounded zero would keep.
    const double now = value && std::abs(*value) >= 0.005 ? *value : 0;
    const std::string said = value ? fmt::format("{}: now {:.2f}{}, wanted {:.2f}{}, within {:g}{}", words.words, now,
                                                 unit, goal.wanted, unit, goal.within, unit)
                                   : fmt::format("{}: {}", words.words, value.error());
    const std::string text = lengths_read(said, screen.settings.inches);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_mark(*ImGui::GetWindowDrawList(), {at.x + 14 * scale, at.y + ImGui::GetTextLineHeight() / 2},
              there ? Mark::tick : Mark::none, ink.ink, scale);
    if (!there)
        ImGui::GetWindowDrawList()->AddCircle({at.x + 14 * scale, at.y + ImGui::GetTextLineHeight() / 2}, 6 * scale,
                                              ink.soft, 0, 1.5F * scale);
    ImGui::Indent(30 * scale);
    paragraph(ink.ink, text);
    ImGui::Unindent(30 * scale);
}

void draw_task(Screen& screen, Bench& bench, Lessons& lessons, const scene::Step& step) {
    const scene::Task& task = *step.task;
    const Inks ink = screen.inks();
    paragraph(ink.ink, task.words);
    for (const std::string& path : task.change) draw_change(screen, bench, path);
    bench.follow();
    const bool by_hand = !task.change.empty();  // else it is done with the sticks
    const head::Sticks sticks = by_hand ? step.stance.sticks : bench.controls.sticks;
    const double azimuth = by_hand ? step.stance.azimuth_deg : bench.controls.azimuth_deg;
    ImGui::Spacing();
    for (const studies::Goal& goal : task.goals) draw_goal(screen, bench, goal, sticks, azimuth);
    const auto& head = bench.live().head;
    if (head && bench.live().closes && studies::met(*head, sticks, azimuth, task.goals))
        lessons.solved.insert(lessons.step);
    ImGui::Spacing();
    if (!step_solved(lessons)) {
        if (word_button(screen, "lesson way", "Show me", "Sets what the task asks for"))
            show_way(screen, bench, lessons);
        return;
    }
    paragraph(ink.ink, "Done. " + task.done);
    screen.report.item("answer said");
}

enum class Press { none, back, next, close, again };

/// Always in the same place, above the text; gives what was pressed.
Press draw_step_buttons(Screen& screen, const Lessons& lessons, const scene::Lesson& lesson, const scene::Step& step) {
    const bool last = lessons.step + 1 == lesson.steps.size();
    const float gap = 18 * screen.scale();
    Press pressed = Press::none;
    if (word_button(screen, "lesson back", "Back", "The step before (H)", lessons.step > 0)) pressed = Press::back;
    ImGui::SameLine();
    if (word_button(screen, "lesson next", last ? "Finish" : "Next",
                    last ? "Back to the list (J)" : "The next step (J)", true, step_solved(lessons)))
        pressed = Press::next;
    ImGui::SameLine(0, gap);
    if (word_button(screen, "lesson close", "All lessons", "Back to the list. What you had open comes back as it was."))
        pressed = Press::close;
    if (!step.to) return pressed;
    ImGui::SameLine(0, gap);
    if (word_button(screen, "lesson again", "Show again", "Sticks and rotor move once more", !lessons.moving))
        pressed = Press::again;
    return pressed;
}

void draw_text(Screen& screen, const scene::Step& step) {
    constexpr float large = 1.25F;  // from here on the body's letters are large enough to be read from the bench
    const bool heading = screen.scale() < large;
    if (heading) ImGui::PushFont(screen.fonts.heading);
    paragraphs(screen.inks().ink, step.text);
    screen.report.item("lesson text");
    if (heading) ImGui::PopFont();
    if (step.source.empty()) return;
    paragraph(screen.inks().soft, step.source);
    screen.report.item("lesson source");
}

void act(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons, Press pressed) {
    switch (pressed) {
        case Press::none:
            return;
        case Press::back:
            return step_before(bench, view, selection, lessons);
        case Press::next:
            return next_step(screen, bench, view, selection, lessons);
        case Press::close:
            return close_lesson(bench, view, selection, lessons);
        case Press::again:
            return show_again(bench, lessons);
    }
}

void draw_open(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    const scene::Lesson& lesson = *lessons.files[*lessons.open].lesson;
    const scene::Step& step = lesson.steps[lessons.step];
    const std::string title = lesson.title + ",",
                      where = fmt::format("step {} of {}", lessons.step + 1, lesson.steps.size());
    const bool fits = ImGui::CalcTextSize((title + " " + where).c_str()).x <= ImGui::GetContentRegionAvail().x;
    paragraph(screen.inks().soft, title + (fits ? " " : "\n") + where);  // "step 5 of 6" is not broken
    const Press pressed = draw_step_buttons(screen, lessons, lesson, step);
    ImGui::Dummy({0, 6 * screen.scale()});
    draw_text(screen, step);
    if (!step.drawing.empty()) draw_lesson_drawing(screen, step.drawing);
    if (step.choice || step.task) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::GetWindowDrawList()->AddLine(at, {at.x + ImGui::GetContentRegionAvail().x, at.y}, screen.inks().rule);
        ImGui::Dummy({0, 4 * screen.scale()});
    }
    if (step.choice) draw_choice(screen, lessons, *step.choice);
    if (step.task) draw_task(screen, bench, lessons, step);
    ImGui::Spacing();
    act(screen, bench, view, selection, lessons, pressed);  // last: nothing of the step is read after it
}

void draw_track_page(Screen& screen, Bench& bench, Selection& selection, Lessons& lessons) {
    if (!draw_track(screen, bench, selection, lessons.track)) return;
    lessons.track_page = false, lessons.fresh = true;
}

void draw_list(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    const Inks ink = screen.inks();
    paragraph(ink.soft,
              "Each lesson stands on an invented head of its own. What you have open is put aside and comes "
              "back as it was.");
    ImGui::Spacing();
    if (word_button(screen, "crash list", "The list for after a crash",
                    "What to look at, in its order, with a tick for each")) {
        lessons.crash_list = lessons.fresh = true;
        return;
    }
    same_line_if_it_fits("Find the hidden fault", ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, "practice list", "Find the hidden fault", "Practice: a fault that only the gauge shows")) {
        lessons.practice_list = lessons.fresh = true;
        return;
    }
    same_line_if_it_fits("Watch the tips in flight", ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, "track page", "Watch the tips in flight",
                    "Are the blades in track? Of the head that is open")) {
        lessons.track_page = lessons.fresh = true;
        return;
    }
    ImGui::Spacing();
    for (std::size_t i = 0; i < lessons.files.size(); ++i) {
        const LessonFile& file = lessons.files[i];
        if (!file.lesson) {
            paragraph(ink.ink, file.mistakes);
            continue;
        }
        const bool done = screen.settings.lessons_done.contains(file.lesson->title);
        const std::string words = fmt::format("{}{}", file.lesson->title, done ? " (done)" : "");
        if (row_button(screen, fmt::format("lesson {}", i + 1), words, done ? Mark::tick : Mark::none))
            return open_lesson(bench, view, selection, lessons, i);
    }
}

}  // namespace

void draw_lessons(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    if (std::exchange(lessons.fresh, false)) ImGui::SetScrollY(0);
    if (lessons.practice.on() || lessons.practice_list)
        draw_practice(screen, bench, view, selection, lessons);
    else if (lessons.on_bench)
        draw_open(screen, bench, view, selection, lessons);
    else if (lessons.track_page)
        draw_track_page(screen, bench, selection, lessons);
    else if (lessons.crash_list)
        draw_crash_list(screen, users_document(bench, lessons), lessons);
    else
        draw_list(screen, bench, view, selection, lessons);
}

}  // namespace swashwright::panels
