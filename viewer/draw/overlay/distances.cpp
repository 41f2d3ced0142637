#include "viewer/draw/overlay/distances.h"

#include <algorithm>
#include <cmath>

namespace swashwright::draw {
namespace {

ImVec2 moved(const ImVec2& p, const ImVec2& way, float by) {
    return {p.x + way.x * by, p.y + way.y * by};
}

/// Extension lines, the line with its arrows, and where its middle is.
ImVec2 draw_line(const Pen& pen, const ImVec2& a, const ImVec2& b, const ImVec2& aside, float away, ImU32 ink) {
    const float line = 1.3F * pen.scale, gap = std::min(5 * pen.scale, away);
    const ImVec2 from = moved(a, aside, away), to = moved(b, aside, away);
    for (const auto& [end, foot] : {std::pair(from, a), std::pair(to, b)}) {
        pen.list.AddLine(moved(foot, aside, gap), moved(end, aside, 5 * pen.scale), ink, line);
        pen.list.AddCircleFilled(foot, 2.4F * pen.scale, ink);
    }
    pen.list.AddLine(from, to, ink, line);
    pen.arrow_head(to, from, ink);
    pen.arrow_head(from, to, ink);
    return {(from.x + to.x) / 2, (from.y + to.y) / 2};
}

/// The number of the row in the list, the length, how it is measured.
void draw_words(const Pen& pen, const DistanceMark& mark, ImVec2 low, std::vector<NameBox>& taken) {
    const ImVec2 one = ImGui::CalcTextSize(mark.value.c_str()), two = ImGui::CalcTextSize(mark.how.c_str());
    const ImVec2 size(std::max(one.x, two.x), one.y + two.y);
    low = pen.kept_inside(low, size);
    const ImVec2 wanted = low;
    const auto foot = static_cast<float>(pen.viewport.y + pen.viewport.height) - 6;
    for (std::size_t tries = 0; tries <= taken.size(); ++tries) {
        const NameBox box{{low.x, low.y}, {low.x + size.x, low.y + size.y}};
        const auto covered = std::ranges::find_if(taken, [&](const NameBox& other) { return overlap(box, other); });
        if (covered == taken.end()) break;
        const float below = covered->high.y + 3 * pen.scale, above = covered->low.y - size.y - 3 * pen.scale;
        low = pen.kept_inside({low.x, below + size.y > foot ? above : below}, size);
    }
    if (std::abs(low.y - wanted.y) > size.y)  // a leader back to where they belong
        pen.list.AddLine({wanted.x - 8 * pen.scale, wanted.y}, {low.x, low.y + size.y / 2}, packed(pen.colours.faint),
                         pen.scale);
    pen.backing(low, {low.x + size.x, low.y + size.y});
    pen.list.AddText(low, packed(pen.colours.ink), mark.value.c_str());
    pen.list.AddText({low.x, low.y + one.y}, packed(glm::mix(pen.colours.faint, pen.colours.ink, 0.6F)),
                     mark.how.c_str());
    taken.push_back({{low.x, low.y}, {low.x + size.x, low.y + size.y}});
}

}  // namespace

void draw_distances(const Pen& pen, const std::vector<DistanceMark>& marks, std::vector<NameBox>& taken) {
    float away = 26 * pen.scale;
    for (const DistanceMark& mark : marks) {
        const auto a = pen.at(mark.a), b = pen.at(mark.b);
        if (!a || !b) continue;
        const ImU32 ink = packed(mark.touched ? pen.colours.accent : pen.colours.ink);
        const float run = std::hypot(b->x - a->x, b->y - a->y);
        const ImVec2 along = run > 1 ? ImVec2((b->x - a->x) / run, (b->y - a->y) / run) : ImVec2(0, -1);
        ImVec2 aside(-along.y, along.x);
        if (aside.x < 0 || (aside.x == 0 && aside.y < 0)) aside = {-aside.x, -aside.y};
        ImVec2 middle((a->x + b->x) / 2, (a->y + b->y) / 2);
        if (run >= 24 * pen.scale) {
            middle = draw_line(pen, *a, *b, aside, away, ink);
            away += 20 * pen.scale;
        } else {  // seen along it, or very short: a leader from between its ends
            pen.list.AddCircle(*a, 4 * pen.scale, ink, 0, 1.5F * pen.scale);
            pen.list.AddCircle(*b, 4 * pen.scale, ink, 0, 1.5F * pen.scale);
            const ImVec2 end = moved(middle, aside, 34 * pen.scale);
            pen.list.AddLine(middle, end, ink, pen.scale);
            middle = end;
        }
        draw_words(pen, mark, moved(middle, {1, 0}, 8 * pen.scale), taken);
    }
}

}  // namespace swashwright::draw
