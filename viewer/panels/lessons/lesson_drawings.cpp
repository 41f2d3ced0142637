#include "viewer/panels/lessons/lesson_drawings.h"

#include <imgui.h>

#include <algorithm>
#include <array>

#include "viewer/panels/base/screen.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

namespace {

/// Draws in a field 100 wide and 50 high, y downwards.
class Board {
public:
    Board(const Screen& screen, ImVec2 at, float width)
        : scale_(screen.scale()), ink_(screen.inks()), at_(at), unit_(width / 100) {}

    void line(float x0, float y0, float x1, float y1, float thick = 1.5F, bool accent = false) const {
        list().AddLine(place(x0, y0), place(x1, y1), accent ? ink_.accent : ink_.ink, thick * scale_);
    }
    void ball(float x, float y) const {
        list().AddCircleFilled(place(x, y), 4 * scale_, ink_.panel);
        list().AddCircle(place(x, y), 4 * scale_, ink_.ink, 0, 1.5F * scale_);
    }
    void box(float x, float y, float w, float h) const {
        list().AddRectFilled(place(x, y), place(x + w, y + h), ink_.field);
        list().AddRect(place(x, y), place(x + w, y + h), ink_.ink, 0, 0, 1.5F * scale_);
    }
    /// Words that start at x, or end there if `left` is false.
    void words(float x, float y, const char* text, bool left = true) const {
        const ImVec2 size = ImGui::CalcTextSize(text), to = place(x, y);
        text_at(list(), {left ? to.x : to.x - size.x, to.y - size.y / 2}, ink_.ink, text);
    }

private:
    static ImDrawList& list() { return *ImGui::GetWindowDrawList(); }
    ImVec2 place(float x, float y) const { return {at_.x + unit_ * x, at_.y + unit_ * y}; }

    float scale_;
    Inks ink_;
    ImVec2 at_;
    float unit_;
};

/// Ring, mast and hub as both heads have them.
void mast(const Board& board) {
    board.line(50, 4, 50, 50, 3);
    board.line(34, 42, 66, 42, 5);
    board.words(68, 44, "ring");
    board.box(46, 9, 8, 5);
    board.line(54, 11.5F, 84, 11.5F, 3);
    board.words(86, 11.5F, "blade");
}

void plain_head(const Board& board) {
    mast(board);
    board.line(36, 42, 36, 13, 2, true);
    board.line(36, 13, 46, 11.5F, 2);
    board.ball(36, 42), board.ball(36, 13);
    board.words(34, 28, "upper link", false);
    board.words(34, 12, "pitch arm", false);
}

void stabiliser_bar(const Board& board) {
    mast(board);
    board.line(20, 25, 80, 25, 2);
    board.box(14, 23, 8, 4), board.box(78, 23, 8, 4);
    board.words(86, 31, "paddle", false);
    board.line(38, 42, 38, 26.5F, 2, true);
    board.line(30, 27, 42, 26, 2.5F);
    board.line(31, 27, 31, 13, 2, true);
    board.line(31, 13, 46, 11.5F, 2);
    board.ball(38, 42), board.ball(38, 26.5F), board.ball(31, 27), board.ball(31, 13);
    board.words(29, 34, "from the ring", false);
    board.words(29, 18, "to the blade", false);
    board.words(60, 21, "stabiliser bar");
}

/// A floating lever: its middle point goes where both ends send it, in the share of the arms.
void mixing_lever(const Board& board) {
    board.line(20, 22, 80, 22, 3);
    board.line(20, 22, 20, 42, 2, true), board.line(80, 22, 80, 42, 2, true), board.line(56, 22, 56, 6, 2, true);
    board.ball(20, 22), board.ball(80, 22), board.ball(56, 22);
    board.words(17, 34, "ring: 2 mm", false), board.words(83, 34, "bar: 1 mm");
    board.words(53, 8, "arm: 1.4 mm", false);
    board.words(33, 26, "9 mm"), board.words(64, 26, "6 mm");
}

struct Named {
    const char* name;
    void (*draw)(const Board&);
};
constexpr std::array<Named, 3> all{
    {{"plain head", plain_head}, {"stabiliser bar", stabiliser_bar}, {"mixing lever", mixing_lever}}};

}  // namespace

void draw_lesson_drawing(Screen& screen, const std::string& name) {
    const float room = ImGui::GetContentRegionAvail().x, width = 0.68F * room;  // words may reach into the margin
    ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy({room, width / 2});
    screen.report.item("lesson drawing");
    at.x += (room - width) / 2;
    if (const auto found = std::ranges::find(all, name, &Named::name); found != all.end())
        found->draw(Board(screen, at, width));
    ImGui::Spacing();
}

}  // namespace swashwright::panels
