#include "viewer/panels/window/shortcuts.h"

#include <GLFW/glfw3.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "kinematics/head/azimuth.h"
#include "viewer/document/own_files.h"
#include "viewer/panels/picture/distances.h"
#include "viewer/panels/picture/hiding.h"
#include "viewer/panels/window/files.h"
#include "viewer/panels/window/picture_file.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

constexpr double stick_step = 0.02, azimuth_step = 1, hand_step = 0.5;

void nudge(double& stick, double by) {
    stick = std::clamp(std::round((stick + by) / 0.01) * 0.01, -1.0, 1.0);
}

void turn(State& state, double by) {
    const double azimuth = state.bench.controls.azimuth_deg + by;
    state.bench.controls.azimuth_deg = head::within_turn_deg(azimuth);
}

/// On a tail the rudder is the stick that there is.
void move_collective(State& state, double by) {
    head::Sticks& sticks = state.bench.controls.sticks;
    if (state.bench.head().kind == head::Kind::tail) return nudge(sticks.rudder, by);
    nudge(sticks.collective, by);
    hold_back(state.bench);
}

void move_by_hand(State& state, int lever, double by) {
    const auto& levers = state.bench.head().levers;
    if (lever < 0 || static_cast<std::size_t>(lever) >= levers.size()) return;
    const auto moved = state.bench.controls.hands.find(lever);
    const double now =
        moved != state.bench.controls.hands.end() ? moved->second : levers[static_cast<std::size_t>(lever)].angle_deg;
    move_hand(state.bench, lever, now + by);
}

/// The arrow keys move the control in the tray that was used last.
void arrow(State& state, double right, double up) {
    head::Sticks& sticks = state.bench.controls.sticks;
    keep_focus(state.focus, state.bench.head());
    switch (state.focus.on) {
        case TrayFocus::On::pad:
            nudge(sticks.aileron, right * stick_step);
            nudge(sticks.elevator, up * stick_step);
            hold_back(state.bench);
            break;
        case TrayFocus::On::collective:
            move_collective(state, up * stick_step);
            break;
        case TrayFocus::On::rudder:
            nudge(sticks.rudder, (right + up) * stick_step);
            break;
        case TrayFocus::On::hand:
            move_by_hand(state, state.focus.hand, (right + up) * hand_step);
            break;
        case TrayFocus::On::azimuth:
            turn(state, (right + up) * azimuth_step);
            break;
    }
}

void toggle_blades(State& state) {
    state.view.whole_blades = !state.view.whole_blades;
    state.view.fit = Fit::moving;
}

void toggle_ledger(State& state) {
    state.folds.column = false;
    state.sheet = Sheet::parts;
    const bool all_open =
        std::ranges::all_of(state.ledger.sections, [](const Section& section) { return section.open; });
    for (Section& section : state.ledger.sections) section.open = !all_open;
}

/// Closes the question that is open and opens the one after it.
void next_question(State& state) {
    state.folds.column = false;
    state.sheet = Sheet::questions;
    const auto open = std::ranges::find_if(state.questions, [](const Question& question) { return question.open; });
    const std::size_t next =
        open == state.questions.end() ? 0 : static_cast<std::size_t>(open - state.questions.begin()) + 1;
    for (std::size_t i = 0; i < state.questions.size(); ++i) {
        state.questions[i].open = i == next;
        state.questions[i].show = i == next ? frames_to_show : 0;
    }
}

void toggle_turning(State& state) {
    state.bench.controls.turning = !state.bench.controls.turning;
}

void next_tray_focus(State& state) {
    const auto all = all_in_tray(state.bench.head());
    const auto now = std::ranges::find(all, state.focus);
    state.screen.keyboard.hide();  // it would hold the arrows where it is
    state.focus = now == all.end() || now + 1 == all.end() ? all.front() : *(now + 1);
}

/// Into the first number of the ledger, which is typed in at once; elsewhere the frame comes up.
void into_column(State& state) {
    state.folds.column = false;
    if (state.sheet == Sheet::parts)
        state.ledger.focus = true;
    else
        state.screen.keyboard.enter_column();
}

void next_area(State& state) {
    state.screen.keyboard.press(Keyboard::Key::next_area);
}

void nothing(State& /*state*/) {}

void lesson_on(State& s) {
    next_step(s.screen, s.bench, s.view, s.selection, s.lessons);
}

void lesson_back(State& s) {
    step_before(s.bench, s.view, s.selection, s.lessons);
}

void build_sheet(State& state) {
    if (!state.sheet_writer.running()) ask_for_sheet(state);
}

/// While a list of steps is open all keys are its own.
void press_at_bench(State& state, int key, int mods) {
    if (key == GLFW_KEY_Q && mods == GLFW_MOD_CONTROL) {
        state.close_wanted = true;
        return;
    }
    switch (key) {
        case GLFW_KEY_SPACE:
        case GLFW_KEY_ENTER:
        case GLFW_KEY_KP_ENTER:
        case GLFW_KEY_RIGHT:
        case GLFW_KEY_PAGE_DOWN:
            return bench_on(state.screen, state.at_bench);
        case GLFW_KEY_LEFT:
        case GLFW_KEY_PAGE_UP:
            state.at_bench.typed.clear();
            return bench_back(state.screen, state.at_bench);
        case GLFW_KEY_BACKSPACE:
            return bench_back(state.screen, state.at_bench);
        case GLFW_KEY_DELETE:
            return bench_forget(state.at_bench);
        case GLFW_KEY_HOME:
            return bench_anew(state.screen, state.at_bench);
        case GLFW_KEY_ESCAPE:
            return leave_at_bench(state.screen, state.at_bench);
        default:
            return;
    }
}

constexpr int ctrl = GLFW_MOD_CONTROL, shift = GLFW_MOD_SHIFT;

void hide_or_show(State& s) {
    if (!s.selection.selected) return;
    if (is_hidden(s.view, *s.selection.selected))
        show(s.view, *s.selection.selected);
    else
        hide(s.view, *s.selection.selected);
}

void show_chosen_alone(State& s) {
    if (s.selection.selected) show_alone(s.view, s.bench.head(), *s.selection.selected);
}

void larger_text(State& s) {
    step_text_scale(s.screen, 1);
}

void smaller_text(State& s) {
    step_text_scale(s.screen, -1);
}

constexpr auto table = std::to_array<Shortcut>({
    {GLFW_KEY_N, ctrl, "Ctrl+N", "a new head", [](State& s) { ask(s, Dialog::new_head); }},
    {GLFW_KEY_O, ctrl, "Ctrl+O", "open a head or readings", [](State& s) { ask(s, Dialog::open); }},
    {GLFW_KEY_S, ctrl, "Ctrl+S", "save the head", [](State& s) { s.save_wanted = true; }},
    {GLFW_KEY_S, ctrl | shift, "Ctrl+Shift+S", "save it as another file", [](State& s) { ask(s, Dialog::save); }},
    {GLFW_KEY_P, ctrl, "Ctrl+P", "write the build sheet", build_sheet},
    {GLFW_KEY_P, ctrl | shift, "Ctrl+Shift+P", "write the card for the field box",
     [](State& s) {
         if (!s.sheet_writer.running()) ask_for_sheet(s, /*card=*/true);
     }},
    {GLFW_KEY_Z, ctrl, "Ctrl+Z", "take back a change", undo},
    {GLFW_KEY_Z, ctrl | shift, "Ctrl+Shift+Z", "do it again", redo},
    {GLFW_KEY_Q, ctrl, "Ctrl+Q", "leave", [](State& s) { s.close_wanted = true; }},
    {GLFW_KEY_SPACE, 0, "Space", "turn the rotor, stop it", toggle_turning},
    {GLFW_KEY_LEFT, 0, "Arrows", "move the stick or the rotor that is marked in the tray",
     [](State& s) { arrow(s, -1, 0); }},
    {GLFW_KEY_RIGHT, 0, "", "", [](State& s) { arrow(s, 1, 0); }},
    {GLFW_KEY_UP, 0, "", "", [](State& s) { arrow(s, 0, 1); }},
    {GLFW_KEY_DOWN, 0, "", "", [](State& s) { arrow(s, 0, -1); }},
    {GLFW_KEY_F6, 0, "F6", "mark the next one for the arrows", next_tray_focus},
    {GLFW_KEY_F7, 0, "F7", "sticks and rotor as one line, or to drag", toggle_tray},
    {GLFW_KEY_F9, 0, "F9", "the column beside the picture away, or back", toggle_column},
    {GLFW_KEY_PAGE_UP, 0, "Page Up, Page Down", "collective, rudder", [](State& s) { move_collective(s, stick_step); }},
    {GLFW_KEY_PAGE_DOWN, 0, "", "", [](State& s) { move_collective(s, -stick_step); }},
    {GLFW_KEY_COMMA, 0, "Comma, point", "turn the rotor by a degree", [](State& s) { turn(s, -azimuth_step); }},
    {GLFW_KEY_PERIOD, 0, "", "", [](State& s) { turn(s, azimuth_step); }},
    {GLFW_KEY_HOME, 0, "Home", "centre all that is moved", [](State& s) { centre_sticks(s.bench); }},
    {GLFW_KEY_F8, 0, "F8", "a frame for the keyboard; to the next part of the window (Shift: back)", next_area},
    {GLFW_KEY_F8, shift, "", "", next_area},
    {GLFW_KEY_TAB, 0, "Tab", "from number to number; with the frame, on to the next thing (Shift: back)", into_column},
    {GLFW_KEY_ENTER, 0, "Enter",
     "press, or type in, what has the frame; arrows go through a list, the questions, the sheets or the map", nothing},
    {GLFW_KEY_ESCAPE, 0, "Esc", "leave a field, then the frame; with neither, stop what is being worked out",
     [](State& s) {
         if (!s.sights.drag) stop_answers(s.questions);  // else it puts back what is dragged
     }},
    {GLFW_KEY_L, 0, "L", "unfold all lists of parts, or fold them", toggle_ledger},
    {GLFW_KEY_Q, 0, "Q", "questions or parts", [](State& s) { show_sheet(s, Sheet::questions); }},
    {GLFW_KEY_K, 0, "K", "open the next question", next_question},
    {GLFW_KEY_G, 0, "G", "lessons or parts", [](State& s) { show_sheet(s, Sheet::lessons); }},
    {GLFW_KEY_J, 0, "J, H", "next step of the lesson, the one before", lesson_on},
    {GLFW_KEY_H, 0, "", "", lesson_back},
    {GLFW_KEY_M, 0, "M", "measure a head, or parts", [](State& s) { show_sheet(s, Sheet::measure); }},
    {GLFW_KEY_C, 0, "C", "compare heads, or parts", [](State& s) { show_sheet(s, Sheet::compare); }},
    {GLFW_KEY_W, 0, "W", "at the bench: one step at a time, in large letters",
     [](State& s) { go_to_bench(s, BenchList::set_up); }},
    {GLFW_KEY_F, 0, "F", "fit the head into the picture", [](State& s) { s.view.fit = Fit::moving; }},
    {GLFW_KEY_Z, 0, "Z", "let the chosen part fill the picture, to turn about it",
     [](State& s) { s.view.fit = Fit::chosen; }},
    {GLFW_KEY_1, 0, "1 to 8", "views: corner, nose, left, top, along the chosen link; tail, right, below",
     [](State& s) { s.view.view_wanted = draw::View::corner; }},
    {GLFW_KEY_2, 0, "", "", [](State& s) { s.view.view_wanted = draw::View::front; }},
    {GLFW_KEY_3, 0, "", "", [](State& s) { s.view.view_wanted = draw::View::side; }},
    {GLFW_KEY_4, 0, "", "", [](State& s) { s.view.view_wanted = draw::View::top; }},
    {GLFW_KEY_5, 0, "", "", [](State& s) { s.view.view_wanted = draw::View::along; }},
    {GLFW_KEY_6, 0, "", "", [](State& s) { s.view.view_wanted = draw::View::back; }},
    {GLFW_KEY_7, 0, "", "", [](State& s) { s.view.view_wanted = draw::View::right; }},
    {GLFW_KEY_8, 0, "", "", [](State& s) { s.view.view_wanted = draw::View::below; }},
    {GLFW_KEY_E, 0, "E", "hide the chosen part, or show it again", hide_or_show},
    {GLFW_KEY_O, 0, "O", "show the chosen part alone", show_chosen_alone},
    {GLFW_KEY_A, 0, "A", "show all parts again", [](State& s) { show_all(s.view); }},
    {GLFW_KEY_D, 0, "D", "distances between two places: by name or click", [](State& s) { turn_distances(s.sights); }},
    {GLFW_KEY_D, shift, "Shift+D", "take the last distance away", [](State& s) { take_last_away(s.view); }},
    {GLFW_KEY_S, 0, "S", "save the picture", ask_for_picture},
    {GLFW_KEY_B, 0, "B", "whole blades or stubs", toggle_blades},
    {GLFW_KEY_T, 0, "T", "paths of balls and tips over a turn", [](State& s) { s.view.paths = !s.view.paths; }},
    {GLFW_KEY_V, 0, "V", "the head as it was meant", [](State& s) { s.view.as_meant = !s.view.as_meant; }},
    {GLFW_KEY_X, 0, "X", "cut open through the shaft", [](State& s) { s.view.cut = !s.view.cut; }},
    {GLFW_KEY_P, 0, "P", "name every part in sight", [](State& s) { s.view.names = !s.view.names; }},
    {GLFW_KEY_N, 0, "N", "night or day", [](State& s) { set_night(s.screen, !s.screen.settings.night); }},
    {GLFW_KEY_I, 0, "I", "lengths in inches or mm", [](State& s) { set_inches(s.screen, !s.screen.settings.inches); }},
    {GLFW_KEY_LEFT_BRACKET, 0, "[ and ]", "exaggerate less, more",
     [](State& s) { s.view.exaggeration = std::max(1.0, s.view.exaggeration - 1); }},
    {GLFW_KEY_RIGHT_BRACKET, 0, "", "",
     [](State& s) { s.view.exaggeration = std::min(20.0, s.view.exaggeration + 1); }},
    {GLFW_KEY_EQUAL, ctrl, "Ctrl+plus, minus", "larger, smaller text", larger_text},
    {GLFW_KEY_EQUAL, ctrl | shift, "", "", larger_text},  // where plus is typed with Shift
    {GLFW_KEY_KP_ADD, ctrl, "", "", larger_text},
    {GLFW_KEY_MINUS, ctrl, "", "", smaller_text},
    {GLFW_KEY_KP_SUBTRACT, ctrl, "", "", smaller_text},
    {GLFW_KEY_F1, 0, "F1", "this page", [](State& s) { ask(s, Dialog::about); }},
});

std::optional<Keyboard::Key> key_of_frame(int key, int mods) {
    using enum Keyboard::Key;
    const bool back = mods == shift;
    if (mods != 0 && !(back && (key == GLFW_KEY_TAB || key == GLFW_KEY_F8))) return std::nullopt;
    switch (key) {
        case GLFW_KEY_TAB:
            return back ? before : next;
        case GLFW_KEY_F8:
            return back ? area_before : next_area;
        case GLFW_KEY_LEFT:
            return left;
        case GLFW_KEY_RIGHT:
            return right;
        case GLFW_KEY_UP:
            return up;
        case GLFW_KEY_DOWN:
            return down;
        case GLFW_KEY_ENTER:
        case GLFW_KEY_KP_ENTER:
            return act;
        case GLFW_KEY_ESCAPE:
            return leave;
        default:
            return std::nullopt;
    }
}

/// While a list of steps is open, Tab goes from button to button and Enter presses what has the frame; other keys are
/// the list's.
bool press_frame_at_bench(Keyboard& keyboard, Keyboard::Key key) {
    using enum Keyboard::Key;
    if (key == next || key == before) return keyboard.press(key) || keyboard.press(next_area);
    return key == act && keyboard.press(key);
}

}  // namespace

std::span<const Shortcut> shortcuts() {
    return table;
}

bool kept_by_browser(const Shortcut& shortcut) {
    return document::files_are_apart() && shortcut.mods == ctrl &&
           (shortcut.key == GLFW_KEY_N || shortcut.key == GLFW_KEY_Q);
}

bool press_frame_key(State& state, int key, int mods, bool typing) {
    Keyboard& keyboard = state.screen.keyboard;
    const auto pressed = key_of_frame(key, mods & (GLFW_MOD_CONTROL | GLFW_MOD_SHIFT | GLFW_MOD_ALT | GLFW_MOD_SUPER));
    if (!pressed) return false;
    if (state.at_bench.open && state.dialogs.open == Dialog::none) return press_frame_at_bench(keyboard, *pressed);
    // While something is typed its keys are the field's; in a dialog nothing else leads out of the field.
    const bool leaves = key == GLFW_KEY_F8 || (key == GLFW_KEY_TAB && keyboard.over_panels());
    if (typing && !leaves) return false;
    if (keyboard.press(*pressed)) return true;
    // Dear ImGui would type in the first field of the panel that was used last.
    if (key != GLFW_KEY_TAB || state.dialogs.open != Dialog::none) return false;
    into_column(state);
    return true;
}

void press_key(State& state, int key, int mods, bool typing) {
    if (state.dialogs.open != Dialog::none) return;  // a dialog takes its own keys
    mods &= GLFW_MOD_CONTROL | GLFW_MOD_SHIFT | GLFW_MOD_ALT | GLFW_MOD_SUPER;
    if (state.at_bench.open) return press_at_bench(state, key, mods);
    const bool function_key = key >= GLFW_KEY_F1 && key <= GLFW_KEY_F25;
    // In a text field plain keys type, and Ctrl+Z takes back typing while there is some.
    const bool of_field = key == GLFW_KEY_Z && ((mods & shift) ? typing_can_redo() : typing_can_undo());
    if (state.sights.distance.open && state.sights.distance.focus) typing = true;  // its field is about to take keys
    if (typing && !function_key && (!(mods & ctrl) || of_field)) return;
    for (const Shortcut& shortcut : table)
        if (shortcut.key == key && shortcut.mods == mods) return shortcut.act(state);
}

}  // namespace swashwright::panels
