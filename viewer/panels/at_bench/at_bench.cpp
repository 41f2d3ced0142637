#include "viewer/panels/at_bench/at_bench.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>

#include "viewer/document/today.h"
#include "viewer/panels/at_bench/bench_board.h"
#include "viewer/panels/at_bench/bench_lists.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {
namespace {

using studies::BenchStep;

document::HeadKept& kept_of(Screen& screen, const AtBench& at_bench) {
    return screen.settings.heads[at_bench.head];
}

document::BenchPlace& place_kept(Screen& screen, const AtBench& at_bench) {
    document::HeadKept& kept = kept_of(screen, at_bench);
    return at_bench.list == BenchList::set_up ? kept.set_up : kept.after_crash;
}

constexpr const char* after_crash_words = ": after a crash";

std::string begun_as(const AtBench& at_bench) {
    return at_bench.head + (at_bench.list == BenchList::set_up ? "" : after_crash_words);
}

void keep(Screen& screen, AtBench& at_bench) {
    at_bench.unkept = false;
    if (at_bench.left) return;  // nobody has gone on from there yet, nor started again
    at_bench.begun.insert(begun_as(at_bench));
    document::BenchPlace place{{}, {}, at_bench.at, document::today(), at_bench.read};
    bool begun = at_bench.at > 0;
    if (at_bench.at < at_bench.steps.size()) {
        const BenchStep& step = at_bench.steps[at_bench.at];
        place.stage = step.stage, place.say = step.say;
        begun = !is_caution(step);
    }
    place_kept(screen, at_bench) = begun || !place.read.empty() ? place : document::BenchPlace{};
    remember_settings(screen);
}

}  // namespace

void follow_key(AtBench& at_bench, const std::string& before, const std::string& now) {
    for (const char* list : {"", after_crash_words})
        if (at_bench.begun.contains(before + list)) at_bench.begun.insert(now + list);
}

namespace {

/// Where the list of the head was left.
void take_up(Screen& screen, AtBench& at_bench) {
    at_bench.at = 0;
    at_bench.left.reset();
    at_bench.sought.reset();
    at_bench.stale = true;
    const document::BenchPlace place = place_kept(screen, at_bench);
    at_bench.read = place.read;
    if (place == document::BenchPlace{}) return;
    (at_bench.begun.contains(begun_as(at_bench)) ? at_bench.sought : at_bench.left) = place;
}

void renew(Screen& screen, const Bench& bench, AtBench& at_bench) {
    const std::uint64_t revision = bench.document().revision();
    if (const std::string key = document::head_key(bench.document(), screen.unsaved_key); key != at_bench.head) {
        at_bench.head = key;
        at_bench.typed.clear();
        at_bench.slip.clear();
        take_up(screen, at_bench);
    }
    if (!at_bench.stale && revision == at_bench.revision) return;
    // After a change of the head the step that one is at is another by number.
    const bool changed = !at_bench.sought && !at_bench.steps.empty() && revision != at_bench.revision;
    if (changed && at_bench.at < at_bench.steps.size())
        at_bench.sought = {at_bench.steps[at_bench.at].stage, at_bench.steps[at_bench.at].say, at_bench.at, {}, {}};
    at_bench.revision = revision;
    at_bench.stale = false;
    at_bench.steps = steps_of(bench, at_bench);
    if (at_bench.sought) at_bench.at = step_of(at_bench.steps, *std::exchange(at_bench.sought, std::nullopt));
    at_bench.at = std::min(at_bench.at, at_bench.steps.size() - 1);
    if (at_bench.unkept) keep(screen, at_bench);
}

void go_to(Screen& screen, AtBench& at_bench, std::size_t step) {
    at_bench.at = step;
    at_bench.typed.clear();
    at_bench.slip.clear();
    at_bench.anew_asked = false;
    at_bench.unkept = at_bench.stale;  // the step has no words yet
    if (!at_bench.unkept) keep(screen, at_bench);
}

/// From the step that tells where the list was left to that place.
void go_on_where_left(Screen& screen, AtBench& at_bench) {
    at_bench.steps.erase(at_bench.steps.begin() + static_cast<std::ptrdiff_t>(at_bench.at));
    const std::size_t step = step_of(at_bench.steps, *std::exchange(at_bench.left, std::nullopt));
    go_to(screen, at_bench, step);
}

/// All was looked at after the crash before this one.
void begin_ticks_anew(Screen& screen, const AtBench& at_bench) {
    document::HeadKept& kept = kept_of(screen, at_bench);
    if (at_bench.at > 0 || at_bench.left || !all_looked_at(at_bench.steps, kept)) return;
    std::string last;
    for (const auto& [line, day] : kept.looked_at) last = std::max(last, day);
    kept.looked_at.clear();
    tell(screen, fmt::format("All was looked at by {}: the ticks begin anew.", last));
}

/// With its unit, or without.
std::optional<double> typed_angle(std::string_view text) {
    if (text.ends_with("deg")) text.remove_suffix(3);
    return typed_number(text);
}

/// True unless what was typed is no number, or a slip; then it stays to be mended.
bool take_typed(const Screen& screen, AtBench& at_bench) {
    const auto& reading = at_bench.steps[at_bench.at].reading;
    if (!reading || at_bench.typed.empty()) return true;
    const auto value =
        reading->unit == "mm" ? typed_length(at_bench.typed, screen.settings.inches) : typed_angle(at_bench.typed);
    at_bench.slip =
        value ? studies::bench_slip(*reading, *value)
              : fmt::format("Type {}: \"{}\" is no {}.", reading->unit == "mm" ? "27.2mm or 1.07in" : "-1.5 or 1.5deg",
                            at_bench.typed, reading->unit == "mm" ? "length" : "angle");
    if (!at_bench.slip.empty()) return false;
    at_bench.read[reading->key] = *value;
    at_bench.stale = true;
    return true;
}

void take_letters(AtBench& at_bench) {
    constexpr std::size_t most = 12;
    for (const ImWchar letter : ImGui::GetIO().InputQueueCharacters) {
        if (letter <= ' ' || letter >= 127) continue;
        const char c = static_cast<char>(std::tolower(static_cast<int>(letter)));
        const bool of_number = std::string_view("0123456789.,-+").find(c) != std::string_view::npos;
        if (!of_number && at_bench.typed.empty()) continue;               // a unit comes after its number
        if (of_number && !at_bench.slip.empty()) at_bench.typed.clear();  // another one in place of the refused
        if (at_bench.typed.size() < most) at_bench.typed += c, at_bench.slip.clear();
        at_bench.anew_asked = false;
    }
}

void end_list(Screen& screen, AtBench& at_bench) {
    const bool had_read = !at_bench.read.empty(), crash = at_bench.list == BenchList::after_crash;
    at_bench.read.clear();
    at_bench.stale = true;
    go_to(screen, at_bench, 0);
    leave_at_bench(screen, at_bench);
    tell(screen, crash      ? "All looked at. The ticks stay on the list, with the day."
                 : had_read ? "All steps done. What was read at the bench is put away; the next time begins at the "
                              "first step."
                            : "All steps done. The next time begins at the first step.");
}

}  // namespace

float bench_letters_px(float window_height) {
    return std::round(window_height / 13.5F);  // of a line; the letters' own em is a sixth less
}

void open_at_bench(Screen& screen, const Bench& bench, AtBench& at_bench, BenchList list) {
    at_bench.open = true;
    at_bench.list = list;
    at_bench.head = document::head_key(bench.document(), screen.unsaved_key);
    at_bench.typed.clear();
    at_bench.slip.clear();
    at_bench.steps.clear();  // of the list that was open last
    take_up(screen, at_bench);
}

void leave_at_bench(Screen& screen, AtBench& at_bench) {
    if (at_bench.unkept) keep(screen, at_bench);
    at_bench.open = false;
    at_bench.anew_asked = false;
    screen.large_px = 0;
}

void bench_on(Screen& screen, AtBench& at_bench) {
    if (std::exchange(at_bench.anew_asked, false)) return;
    // Keys come faster than frames now and then: the steps to go on to may not be made yet.
    if (at_bench.at >= at_bench.steps.size() || !take_typed(screen, at_bench)) return;
    if (tells_left(at_bench, at_bench.at)) return go_on_where_left(screen, at_bench);
    if (at_bench.list == BenchList::after_crash) {
        begin_ticks_anew(screen, at_bench);
        if (const std::string line = crash_line(at_bench.steps[at_bench.at]); !line.empty())
            kept_of(screen, at_bench).looked_at[line] = document::today();
    }
    // What was typed can bring more steps after this one, so the last is known only once they are made anew.
    if (at_bench.at + 1 < at_bench.steps.size() || at_bench.stale) return go_to(screen, at_bench, at_bench.at + 1);
    end_list(screen, at_bench);
}

void bench_back(Screen& screen, AtBench& at_bench) {
    at_bench.slip.clear();
    if (std::exchange(at_bench.anew_asked, false)) return;
    if (!at_bench.typed.empty())
        at_bench.typed.pop_back();
    else if (at_bench.at > 0)
        go_to(screen, at_bench, at_bench.at - 1);
}

void bench_anew(Screen& screen, AtBench& at_bench) {
    document::HeadKept& kept = kept_of(screen, at_bench);
    const bool ticks = at_bench.list == BenchList::after_crash && !kept.looked_at.empty();
    if ((ticks || !at_bench.read.empty()) && !std::exchange(at_bench.anew_asked, true)) return;  // asked first
    if (ticks) kept.looked_at.clear();
    at_bench.read.clear();
    at_bench.left.reset();
    at_bench.sought.reset();
    at_bench.stale = true;
    go_to(screen, at_bench, 0);
}

void bench_forget(AtBench& at_bench) {
    at_bench.slip.clear();
    at_bench.typed.clear();
    if (std::exchange(at_bench.anew_asked, false) || at_bench.at >= at_bench.steps.size()) return;
    const auto& reading = at_bench.steps[at_bench.at].reading;
    if (!reading || at_bench.read.erase(reading->key) == 0) return;
    at_bench.stale = at_bench.unkept = true;
}

void draw_at_bench(Screen& screen, const Bench& bench, AtBench& at_bench, ImVec2 window) {
    renew(screen, bench, at_bench);
    if (at_bench.steps[at_bench.at].reading && !screen.covered) take_letters(at_bench);
    if (const float px = bench_letters_px(window.y); px != screen.large_px)
        screen.large_px = px, screen.look_stale = true;
    begin_panel("at bench", {0, 0, window.x, window.y});
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.PushClipRectFullScreen();
    list.AddRectFilled({0, 0}, window, screen.inks().panel);  // over the picture, which lies below all panels
    list.PopClipRect();
    draw_board(screen, at_bench, window);
    ImGui::End();
}

}  // namespace swashwright::panels
