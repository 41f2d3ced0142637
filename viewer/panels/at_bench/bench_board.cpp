#include "viewer/panels/at_bench/bench_board.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <string>

#include "kinematics/studies/answer/figures.h"
#include "viewer/panels/at_bench/bench_lists.h"
#include "viewer/panels/at_bench/tool_drawings.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {
namespace {

using studies::BenchStep;

bool in_inches(const Screen& screen, const studies::BenchReading& reading) {
    return screen.settings.inches && reading.unit == "mm";
}

/// What was read, as it is typed.
std::string shown(const Screen& screen, const studies::BenchReading& reading, double value) {
    return reading.unit == "mm" ? length_text(value, screen.settings.inches)
                                : studies::signed_figure(value, 1) + " deg";
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
    out.aileron = static_cast<float>(step.sticks.aileron);
    out.elevator = static_cast<float>(step.sticks.elevator);
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
                                                      : "Read so far. Type to change it; Delete takes it out.";
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
        big_button(screen, "bench anew", anew, board, {right - width(leave) - width(anew), y},
                   at_bench.at > 0 || at_bench.left))
        bench_anew(screen, at_bench);
}

/// What goes wrong, or was just done, is read here: the board covers the picture's corner.
float draw_said(Screen& screen, const Board& board, ImVec2 window) {
    const std::string& said = screen.not_remembered.empty() ? screen.notice : screen.not_remembered;
    const float bottom = window.y - board.margin - 1.5F * board.small;
    if (said.empty()) return bottom;
    const float px = 0.8F * board.small, width = window.x - 2 * board.margin;
    const float top = bottom - board.font->CalcTextSizeA(px, 1e6F, width, said.c_str()).y;
    words(*ImGui::GetWindowDrawList(), board.font, px, {board.margin, top}, width,
          screen.not_remembered.empty() ? screen.inks().soft : screen.inks().trouble, said);
    screen.report.rectangle("bench said", {board.margin, top}, {board.margin + width, bottom});
    return top - 0.2F * board.small;
}

std::string counted(std::size_t count, const char* one) {
    return count == 1 ? fmt::format("1 {} goes", one) : fmt::format("{} {}s go", count, one);
}

std::string asks_anew(const Screen& screen, const AtBench& at_bench) {
    std::string goes = counted(at_bench.read.size(), "reading");
    const auto kept = screen.settings.heads.find(at_bench.head);
    if (at_bench.list == BenchList::after_crash && kept != screen.settings.heads.end())
        goes = counted(kept->second.looked_at.size(), "tick");
    return fmt::format("Press Home again to start again at the first step: {}. Any other key leaves all as it is.",
                       goes);
}

/// A drawing's own ground is the page's.
Inks on_panel(Inks ink) {
    ink.paper = ink.panel;
    return ink;
}

void draw_step(Screen& screen, AtBench& at_bench, const Board& board, ImVec2 window) {
    const Inks ink = screen.inks();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const BenchStep& step = at_bench.steps[at_bench.at];
    const bool inches = screen.settings.inches;
    const std::string say = lengths_read(step.say, inches),
                      more = at_bench.anew_asked ? asks_anew(screen, at_bench) : lengths_read(step.more, inches);
    const float top = board.margin / 2 + 1.9F * board.small, drawing = 0.34F * window.x;
    const float left = window.x - drawing - 2.5F * board.margin;
    const float bottom = draw_said(screen, board, window);
    float y = words(list, board.font, board.large, {board.margin, top}, left, ink.ink, say);
    screen.report.rectangle("bench words", {board.margin, top}, {board.margin + left, y});
    ImGui::PushFont(board.font);
    ImGui::SetWindowFontScale(bench_note_share * board.large / board.font->FontSize);
    draw_tool(list, {window.x - board.margin - drawing, top},
              {window.x - board.margin, top + std::min(0.6F * drawing, 0.45F * window.y)},
              {on_panel(ink), std::max(1.5F, board.large / 30)}, drawing_of(screen, step));
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

void draw_board(Screen& screen, AtBench& at_bench, ImVec2 window) {
    ImFont* font = screen.fonts.large ? screen.fonts.large : screen.fonts.heading;
    const float large = bench_letters_px(window.y);
    const Board board{font, large, 0.6F * large, 0.05F * window.x};
    draw_head_line(screen, at_bench, board, window);
    draw_step(screen, at_bench, board, window);
    draw_buttons(screen, at_bench, board, window);  // last: steps may go with it
}

}  // namespace swashwright::panels
