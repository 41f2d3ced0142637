#include "viewer/panels/at_bench/at_bench.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>

#include "kinematics/studies/answer/figures.h"
#include "viewer/panels/at_bench/tool_drawings.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/sheet/words.h"

namespace swashwright::panels {
namespace {

using studies::BenchStep;
using studies::BenchTool;

/// The first sentence is the instruction, the rest what to know about it.
BenchStep of_words(const std::string& stage, const std::string& words, BenchTool tool) {
    BenchStep out{.stage = stage, .say = words, .more = {}, .tool = tool};
    if (const auto end = words.find(". "); end != std::string::npos)
        out.say = words.substr(0, end + 1), out.more = words.substr(end + 2);
    return out;
}

void add(std::vector<BenchStep>& steps, const std::string& stage, const std::vector<std::string>& lines,
         BenchTool tool) {
    for (const std::string& line : lines) steps.push_back(of_words(stage, line, tool));
}

std::vector<BenchStep> steps_of(const Bench& bench, const AtBench& at_bench) {
    const head::Description& d = bench.head();
    std::vector<BenchStep> out;
    add(out, "First", sheet::cautions("this program"), BenchTool::eyes);
    if (at_bench.list == BenchList::after_crash) {
        add(out, "After a crash", sheet::after_crash(d), BenchTool::eyes);
        return out;
    }
    const auto head = head::Head::build(d);
    const auto steps = head ? studies::bench_steps(*head, at_bench.read)
                            : head::Result<std::vector<BenchStep>>(tl::unexpected(head.error()));
    if (steps)
        out.insert(out.end(), steps->begin(), steps->end());
    else {
        if (d.kind == head::Kind::main)
            out.push_back({.stage = "Set-up",
                           .say = "This head cannot be led through as it stands.",
                           .more = steps.error().message + ". What follows is the usual order of work."});
        add(out, "Set-up", sheet::order_of_work(d), BenchTool::hands);
    }
    add(out, "Before it runs", sheet::retention_checks(d), BenchTool::hex_key);
    return out;
}

std::string kept_under(const AtBench& at_bench) {
    return at_bench.head + (at_bench.list == BenchList::set_up ? "" : ": after a crash");
}

void keep(Screen& screen, const AtBench& at_bench) {
    auto& kept = screen.settings.at_bench;
    if (at_bench.at == 0 && at_bench.read.empty())
        kept.erase(kept_under(at_bench));
    else
        kept[kept_under(at_bench)] = {at_bench.at, at_bench.read};
    remember_settings(screen);
}

/// Where the list of the head was left.
void take_up(const Screen& screen, AtBench& at_bench) {
    at_bench.at = 0;
    at_bench.read.clear();
    if (const auto kept = screen.settings.at_bench.find(kept_under(at_bench)); kept != screen.settings.at_bench.end())
        at_bench.at = kept->second.step, at_bench.read = kept->second.read;
    at_bench.stale = true;
}

void renew(const Screen& screen, const Bench& bench, AtBench& at_bench) {
    const std::uint64_t revision = bench.document().revision();
    if (bench.head().name != at_bench.head) {
        at_bench.head = bench.head().name;
        at_bench.typed.clear();
        at_bench.slip.clear();
        take_up(screen, at_bench);
    }
    if (!at_bench.stale && revision == at_bench.revision) return;
    at_bench.revision = revision;
    at_bench.stale = false;
    at_bench.steps = steps_of(bench, at_bench);
    at_bench.at = std::min(at_bench.at, at_bench.steps.size() - 1);
}

bool in_inches(const Screen& screen, const studies::BenchReading& reading) {
    return screen.settings.inches && reading.unit == "mm";
}

/// What was read, as it is typed.
std::string shown(const Screen& screen, const studies::BenchReading& reading, double value) {
    return reading.unit == "mm" ? length_text(value, screen.settings.inches)
                                : studies::signed_figure(value, 1) + " deg";
}

void go_to(Screen& screen, AtBench& at_bench, std::size_t step) {
    at_bench.at = step;
    at_bench.typed.clear();
    at_bench.slip.clear();
    at_bench.anew_asked = false;
    keep(screen, at_bench);
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

/// Words in letters of a height, broken to a width; gives where they end.
float words(ImDrawList& list, ImFont* font, float px, ImVec2 at, float width, ImU32 colour, const std::string& text) {
    list.AddText(font, px, at, colour, text.c_str(), nullptr, width);
    return at.y + font->CalcTextSizeA(px, 1e6F, width, text.c_str()).y;
}

ToolDrawing drawing_of(const Screen& screen, const BenchStep& step) {
    ToolDrawing out{.tool = step.tool, .way = step.way};
    out.turnbuckle = step.turn && step.turn->rod == head::Rod::turnbuckle;
    out.collective = static_cast<float>(step.sticks.collective);
    if (!step.reading) return out;
    out.value = shown(screen, *step.reading, step.reading->wanted);
    if (step.reading->unit == "deg") out.pitch_deg = step.reading->wanted;
    return out;
}

constexpr float bench_note_share = 0.55F;  // of the instruction's letters: what a drawing's own words have

struct Board {
    ImFont* font;
    float large, small, margin;
};

void draw_head_line(const Screen& screen, const AtBench& at_bench, const Board& board, ImVec2 window) {
    const Inks ink = screen.inks();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const BenchStep& step = at_bench.steps[at_bench.at];
    const std::string far = fmt::format("{} of {}", at_bench.at + 1, at_bench.steps.size());
    words(list, board.font, board.small, {board.margin, board.margin / 2}, 0, ink.soft, step.stage);
    const float width = board.font->CalcTextSizeA(board.small, 1e6F, 0, far.c_str()).x;
    words(list, board.font, board.small, {window.x - board.margin - width, board.margin / 2}, 0, ink.soft, far);
    const float y = board.margin / 2 + 1.15F * board.small, thick = std::max(4.0F, board.small / 5);
    const float share = static_cast<float>(at_bench.at + 1) / static_cast<float>(at_bench.steps.size());
    list.AddRectFilled({board.margin, y}, {window.x - board.margin, y + thick}, ink.field);
    list.AddRectFilled({board.margin, y}, {board.margin + share * (window.x - 2 * board.margin), y + thick}, ink.ink);
}

/// The number that is asked for: what is typed, else what was read, else how to leave it out.
float draw_number(const Screen& screen, const AtBench& at_bench, const Board& board, float y, float width) {
    const Inks ink = screen.inks();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const studies::BenchReading& reading = *at_bench.steps[at_bench.at].reading;
    const auto found = at_bench.read.find(reading.key);
    const float height = 1.2F * board.large, field = 6.5F * board.large;
    list.AddRectFilled({board.margin, y}, {board.margin + field, y + height}, ink.field);
    list.AddRect({board.margin, y}, {board.margin + field, y + height}, ink.accent, 0, 0, 3 * screen.scale());
    const std::string unit = in_inches(screen, reading) ? " in" : " " + reading.unit;
    std::string text = at_bench.typed;
    if (!text.empty())
        text += std::isdigit(static_cast<unsigned char>(text.back())) ? unit : "";
    else if (found != at_bench.read.end())
        text = shown(screen, reading, found->second);
    words(list, board.font, board.large, {board.margin + board.small / 2, y + 0.1F * board.large}, 0,
          at_bench.typed.empty() ? ink.soft : ink.ink, text.empty() ? "?" + unit : text);
    const std::string beside = !at_bench.slip.empty() ? lengths_read(at_bench.slip, screen.settings.inches)
                               : text.empty()         ? "Type what you read, or go on without."
                                                      : "Read so far. Type to change it.";
    words(list, board.font, board.small, {2 * board.margin + field, y}, width - field - board.margin,
          at_bench.slip.empty() ? ink.soft : ink.trouble,
          at_bench.typed.empty() || !at_bench.slip.empty() ? beside : "Space takes it.");
    return y + height;
}

/// Gives true where it is pressed.
bool big_button(Screen& screen, const char* id, const char* word, const Board& board, ImVec2 at, bool enabled) {
    const ImVec2 size{board.font->CalcTextSizeA(board.small, 1e6F, 0, word).x + board.small, 1.5F * board.small};
    place_at(at.x, at.y);
    const bool pressed = ImGui::InvisibleButton(id, size) && enabled;
    if (enabled) key_stop(screen);
    screen.report.item(id);
    const Inks ink = screen.inks();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (ImGui::IsItemHovered() && enabled) list.AddRectFilled(at, {at.x + size.x, at.y + size.y}, ink.field);
    list.AddRect(at, {at.x + size.x, at.y + size.y}, enabled ? ink.ink : ink.rule, 0, 0, 2 * screen.scale());
    list.AddText(board.font, board.small, {at.x + board.small / 2, at.y + 0.22F * board.small},
                 enabled ? ink.ink : ink.soft, word);
    return pressed;
}

void draw_buttons(Screen& screen, AtBench& at_bench, const Board& board, ImVec2 window) {
    const float y = window.y - board.margin / 2 - 1.5F * board.small;
    const auto width = [&](const char* word) {
        return board.font->CalcTextSizeA(board.small, 1e6F, 0, word).x + 1.5F * board.small;
    };
    const bool last = at_bench.at + 1 == at_bench.steps.size();
    const char *back = "Back: Backspace", *on = last ? "Done: Space" : "Next: Space", *anew = "Start again: Home",
               *leave = "Leave: Esc";
    float x = board.margin;
    if (big_button(screen, "bench back", back, board, {x, y}, at_bench.at > 0))
        at_bench.typed.clear(), bench_back(screen, at_bench);
    x += width(back);
    if (big_button(screen, "bench on", on, board, {x, y}, true)) return bench_on(screen, at_bench);
    const float right = window.x - board.margin + 0.5F * board.small;
    if (big_button(screen, "bench leave", leave, board, {right - width(leave), y}, true))
        return leave_at_bench(screen, at_bench);
    if (x + width(on) + width(anew) + width(leave) < right &&
        big_button(screen, "bench anew", anew, board, {right - width(leave) - width(anew), y}, at_bench.at > 0))
        bench_anew(screen, at_bench);
}

std::string asks_anew(const AtBench& at_bench) {
    const std::size_t count = at_bench.read.size();
    return fmt::format("Press Home again to start again at the first step: {}. Any other key leaves all as it is.",
                       count == 1 ? "1 reading goes" : fmt::format("{} readings go", count));
}

void draw_step(Screen& screen, AtBench& at_bench, const Board& board, ImVec2 window) {
    const Inks ink = screen.inks();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const BenchStep& step = at_bench.steps[at_bench.at];
    const bool inches = screen.settings.inches;
    const std::string say = lengths_read(step.say, inches),
                      more = at_bench.anew_asked ? asks_anew(at_bench) : lengths_read(step.more, inches);
    const float top = board.margin / 2 + 1.9F * board.small, drawing = 0.34F * window.x;
    const float left = window.x - drawing - 2.5F * board.margin;
    const float bottom = window.y - board.margin - 1.5F * board.small;
    float y = words(list, board.font, board.large, {board.margin, top}, left, ink.ink, say);
    screen.report.rectangle("bench words", {board.margin, top}, {board.margin + left, y});
    ImGui::PushFont(board.font);
    ImGui::SetWindowFontScale(bench_note_share * board.large / board.font->FontSize);
    draw_tool(list, {window.x - board.margin - drawing, top},
              {window.x - board.margin, top + std::min(0.6F * drawing, 0.45F * window.y)},
              {ink, std::max(1.5F, board.large / 30)}, drawing_of(screen, step));
    ImGui::SetWindowFontScale(1);
    ImGui::PopFont();
    y = std::max(y, top + 0.56F * drawing) + 0.4F * board.small;
    const float width = window.x - 2 * board.margin;
    if (step.reading) y = draw_number(screen, at_bench, board, y, width) + 0.4F * board.small;
    float px = board.small;  // smaller where it would run into the buttons
    while (px > 0.7F * board.small && y + board.font->CalcTextSizeA(px, 1e6F, width, more.c_str()).y > bottom)
        px *= 0.95F;
    words(list, board.font, px, {board.margin, y}, width, at_bench.anew_asked ? ink.trouble : ink.soft, more);
}

}  // namespace

float bench_letters_px(float window_height) {
    return std::round(window_height / 13.5F);  // of a line; the letters' own em is a sixth less
}

void open_at_bench(Screen& screen, const Bench& bench, AtBench& at_bench, BenchList list) {
    at_bench.open = true;
    at_bench.list = list;
    at_bench.head = bench.head().name;
    at_bench.typed.clear();
    at_bench.slip.clear();
    at_bench.steps.clear();  // of the list that was open last
    take_up(screen, at_bench);
}

void leave_at_bench(Screen& screen, AtBench& at_bench) {
    at_bench.open = false;
    at_bench.anew_asked = false;
    screen.large_px = 0;
}

void bench_on(Screen& screen, AtBench& at_bench) {
    if (std::exchange(at_bench.anew_asked, false)) return;
    // Keys come faster than frames now and then: the steps to go on to may not be made yet.
    if (at_bench.at >= at_bench.steps.size() || !take_typed(screen, at_bench)) return;
    const BenchStep& step = at_bench.steps[at_bench.at];
    if (at_bench.list == BenchList::after_crash && step.stage != "First")
        screen.settings.crash_ticked.insert(at_bench.head + ": " + step.say +
                                            (step.more.empty() ? "" : " " + step.more));
    // What was typed can bring more steps after this one, so the last is known only once they are made anew.
    if (at_bench.at + 1 < at_bench.steps.size() || at_bench.stale) return go_to(screen, at_bench, at_bench.at + 1);
    go_to(screen, at_bench, 0);
    at_bench.read.clear();
    keep(screen, at_bench);
    leave_at_bench(screen, at_bench);
    tell(screen, "All steps done. What was read at the bench is put away; the next time begins at the first step.");
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
    if (!at_bench.read.empty() && !std::exchange(at_bench.anew_asked, true)) return;  // asked first
    at_bench.read.clear();
    at_bench.stale = true;
    go_to(screen, at_bench, 0);
}

void draw_at_bench(Screen& screen, const Bench& bench, AtBench& at_bench, ImVec2 window) {
    renew(screen, bench, at_bench);
    if (at_bench.steps[at_bench.at].reading && !screen.covered) take_letters(at_bench);
    if (const float px = bench_letters_px(window.y); px != screen.large_px)
        screen.large_px = px, screen.look_stale = true;
    ImFont* font = screen.fonts.large ? screen.fonts.large : screen.fonts.heading;
    const float large = bench_letters_px(window.y);
    const Board board{font, large, 0.6F * large, 0.05F * window.x};
    begin_panel("at bench", {0, 0, window.x, window.y});
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.PushClipRectFullScreen();
    list.AddRectFilled({0, 0}, window, screen.inks().panel);  // over the picture, which lies below all panels
    list.PopClipRect();
    draw_head_line(screen, at_bench, board, window);
    draw_step(screen, at_bench, board, window);
    draw_buttons(screen, at_bench, board, window);  // last: steps may go with it
    ImGui::End();
}

}  // namespace swashwright::panels
