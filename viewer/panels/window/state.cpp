#include "viewer/panels/window/state.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/stick_envelope.h"
#include "kinematics/scene/refusal.h"
#include "viewer/panels/files/files.h"
#include "viewer/panels/files/gauge_file.h"

namespace swashwright::panels {

namespace {

/// Motion wants 30 frames a second.
void mind_the_pace(View& view, bool moves, double seconds) {
    view.frame_seconds = moves ? view.frame_seconds + 0.1 * (std::min(seconds, 0.1) - view.frame_seconds) : 0;
    view.hurried = moves && (view.hurried || view.frame_seconds > 1 / 30.0);
}

double ease(double t) {
    return t * t * (3 - 2 * t);
}

draw::Camera between(const draw::Camera& a, const draw::Camera& b, double t) {
    draw::Camera out = b;
    out.target = a.target + t * (b.target - a.target);
    out.view_deg = a.view_deg + t * (b.view_deg - a.view_deg);
    out.distance_mm = a.distance_mm + t * (b.distance_mm - a.distance_mm);
    out.azimuth_deg = a.azimuth_deg + t * std::remainder(b.azimuth_deg - a.azimuth_deg, 360.0);
    out.height_deg = a.height_deg + t * (b.height_deg - a.height_deg);
    return out;
}

constexpr double text_scale_step = 0.25;

double largest_text_scale(const State& state) {
    const double most = static_cast<double>(state.scale_most / state.screen_scale);
    return std::clamp(std::floor(most / text_scale_step) * text_scale_step, 1.0, 2.0);
}

}  // namespace

State make_state(document::Document document, const std::string& settings_path, const std::string& report_path,
                 const std::string& unsaved_folder) {
    State state(std::move(document), report_path);
    state.settings = document::load_settings(settings_path);
    state.settings_path = settings_path;
    state.left_work = document::left_work(unsaved_folder);
    state.recovery = std::make_unique<document::Recovery>(unsaved_folder);
    document::note_recent(state.settings, state.document.path());
    state.ledger = ledger_sections(state.document.head());
    if (!state.settings.safety_read) ask(state, Dialog::safety);
    return state;
}

void head_replaced(State& state) {
    state.follower.reset();
    ++state.scenes_opened;
    state.hovered.reset();
    state.show_selected = false;
    state.gap = {};
    for (Question& question : state.questions) question.stamp = {};
}

void show_document(State& state, document::Document document) {
    put_lesson_away(state);
    state.document = std::move(document);
    state.recovery->start_anew();
    head_replaced(state);
    state.controls = Controls{};
    state.selected.reset();
    state.ledger = ledger_sections(state.document.head());
    state.view.fit = Fit::moving;
    state.dialog = Dialog::none;
}

void ask(State& state, Dialog dialog) {
    const bool saves = dialog == Dialog::save || dialog == Dialog::save_gauge || dialog == Dialog::save_calliper;
    if (!saves) state.waiting.reset();
    if (saves || dialog == Dialog::open || dialog == Dialog::read || dialog == Dialog::unsaved) put_lesson_away(state);
    state.dialog = dialog;
    state.dialog_opening = true;
    state.dialog_error.clear();
    state.replace_path.clear();
    state.dialog_choices.clear();
    const bool files = dialog == Dialog::open || dialog == Dialog::save || dialog == Dialog::compare;
    if (files) state.dialog_path = dialog == Dialog::save ? name_to_save(state) : state.document.path();
    if (files) state.dialog_choices = scenes_beside(state.dialog_path);
}

void ask_for_file(State& state, Dialog dialog, const std::string& path) {
    ask(state, dialog);
    state.dialog_path = path;
    state.dialog_choices = scenes_beside(path);
}

void show_sheet(State& state, Sheet sheet) {
    state.sheet = state.sheet == sheet ? Sheet::parts : sheet;
}

bool try_edit(State& state, scene::Scene next, const std::string& name, bool run) {
    if (auto why = scene::refusal(state.document.scene(), next)) {
        refuse(state, name, std::move(*why));
        return false;
    }
    state.document.edit(std::move(next), name);
    if (!run) state.document.seal();
    state.form.refused.clear();
    state.form.assumed.clear();
    return true;
}

void refuse(State& state, const std::string& name, std::string why) {
    state.form.refused = name;
    state.form.why = std::move(why);
    state.form.refused_at = state.document.revision();
}

void follow_parts(State& state) {
    const PartCounts now = counts_of(state.document.head()), opened = counts_of(state.document.as_opened().head);
    state.form.as_opened_fits =
        now.blades == opened.blades && now.driver_pins == opened.driver_pins && now.servos == opened.servos;
    if (now == state.form.counts) return;
    const bool other_parts = now.blades != state.form.counts.blades || now.driver_pins != state.form.counts.driver_pins;
    state.form.counts = now;
    std::vector<Section> rows = ledger_sections(state.document.head());
    for (Section& section : rows)
        for (const Section& before : state.ledger)
            if (before.title == section.title) {
                section.open = before.open;
                section.more_open = before.more_open;
            }
    state.ledger = std::move(rows);
    if (!other_parts) return;
    state.follower.reset();
    state.hovered.reset();
    state.gap = {};
    if (!state.selected) return;
    const draw::Part part = *state.selected;
    using Kind = head::Role;
    const bool of_blade = part.role == Kind::blade || part.role == Kind::grip || part.role == Kind::upper_link;
    if ((of_blade && part.index >= now.blades) ||
        (part.role == Kind::driver && part.index >= static_cast<int>(now.driver_pins)))
        state.selected.reset();
}

void undo(State& state) {
    if (!state.document.can_undo()) return;
    tell(state, fmt::format("Taken back: {}", state.document.undo_label()));
    state.document.undo();
    follow_parts(state);
}

void redo(State& state) {
    if (!state.document.can_redo()) return;
    tell(state, fmt::format("Done again: {}", state.document.redo_label()));
    state.document.redo();
    follow_parts(state);
}

void centre_sticks(State& state) {
    state.controls.sticks = {};
}

void hold_back(State& state) {
    state.controls.sticks = head::held_back(state.document.head().mixing, state.controls.sticks);
}

void go_to(State& state, const head::Sticks& sticks, double azimuth_deg) {
    state.controls.sticks = sticks;
    state.controls.azimuth_deg = head::within_turn_deg(azimuth_deg);
    state.controls.turning = false;
}

void set_text_scale(State& state, double scale) {
    scale = std::clamp(scale, 1.0, largest_text_scale(state));
    if (scale == state.settings.text_scale) return;
    state.settings.text_scale = scale;
    state.look_stale = true;
    remember_settings(state);
}

void next_text_scale(State& state) {
    const double next = state.settings.text_scale + text_scale_step;
    set_text_scale(state, next > largest_text_scale(state) ? 1.0 : next);
}

void set_screen_scale(State& state, float scale) {
    // Servers round their dots an inch: what is near to one step is meant to be that step.
    scale = std::clamp(std::round(4 * scale) / 4, 1.0F, 4.0F);
    if (scale == state.screen_scale) return;
    state.screen_scale = scale;
    state.look_stale = true;
}

void limit_text_scale(State& state, float window_width) {
    constexpr float width_at_scale_1 = 850;  // the ledger's columns need it
    const float before = state.scale();
    state.scale_most = std::max(1.0F, window_width / width_at_scale_1);
    if (state.scale() != before) state.look_stale = true;
}

void set_night(State& state, bool night) {
    state.settings.night = night;
    state.look_stale = true;
    remember_settings(state);
}

void set_inches(State& state, bool inches) {
    state.settings.inches = inches;
    remember_settings(state);
}

void remember_settings(State& state) {
    if (auto saved = document::save_settings(state.settings_path, state.settings); !saved)
        tell(state, fmt::format("Not remembered: {}", saved.error()));
}

void tell(State& state, std::string notice) {
    state.notice = std::move(notice);
    state.notice_until = state.clock + 6;
}

void move_camera(State& state, const draw::Camera& to) {
    if (state.settings.camera_moves)
        state.view.move = CameraMove{state.view.camera, to};
    else
        state.view.camera = to;
}

void advance(State& state, double seconds, double now) {
    const double since_last = now - std::exchange(state.clock, now);
    if (state.controls.turning) {
        const double azimuth = state.controls.azimuth_deg + 6.0 * state.controls.turn_rpm * seconds;  // 1 rpm = 6 deg/s
        state.controls.azimuth_deg = head::within_turn_deg(azimuth);
    }
    advance_lesson(state, seconds);
    if (auto& move = state.view.move) {
        move->seconds += seconds;
        const double t = std::min(1.0, move->seconds / camera_seconds);
        state.view.camera = between(move->from, move->to, ease(t));
        if (t >= 1) state.view.camera = std::exchange(move, std::nullopt)->to;
    }
    mind_the_pace(state.view, moving(state), since_last);
    if (auto kept = keep_unsaved(state); !kept) tell(state, kept.error());
    if (state.dialog == Dialog::none && !state.left_work.empty()) ask(state, Dialog::left_work);
    if (!state.notice.empty() && state.clock > state.notice_until) state.notice.clear();
}

bool moving(const State& state) {
    return state.controls.turning || state.view.move.has_value() || lesson_moves(state) ||
           (state.sheet == Sheet::questions && std::ranges::any_of(state.questions, [](const Question& question) {
                return question.open && question.show > 0 && question.inquiry.outcome() && !question.inquiry.running();
            }));
}

}  // namespace swashwright::panels
