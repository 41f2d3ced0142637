#include "viewer/draw/overlay/forces.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace swashwright::draw {

namespace {

constexpr float most_width = 9, least_width = 2.5F, beside = 15;  // pixels at 100 %

/// Both ends moved aside, away from the shaft, so that the link itself is seen.
std::pair<ImVec2, ImVec2> moved_aside(const Pen& pen, const ImVec2& a, const ImVec2& b) {
    const float run = std::hypot(b.x - a.x, b.y - a.y);
    if (run < 1) return {a, b};
    ImVec2 by(-(b.y - a.y) / run * beside * pen.scale, (b.x - a.x) / run * beside * pen.scale);
    const float middle = static_cast<float>(pen.viewport.x) + 0.5F * static_cast<float>(pen.viewport.width);
    if (((a.x + b.x) / 2 < middle) == (by.x > 0)) by = {-by.x, -by.y};
    return {{a.x + by.x, a.y + by.y}, {b.x + by.x, b.y + by.y}};
}

/// Words on a leader, away from the shaft.
Label label_at(const Pen& pen, const ImVec2& tip, const std::string& words, ImU32 ink) {
    Label label;
    label.text = words;
    label.ink = ink;
    label.may_go = true;
    label.tip = tip;
    const ImVec2 size = pen.size_of(label);
    const float middle = static_cast<float>(pen.viewport.x) + 0.5F * static_cast<float>(pen.viewport.width);
    const float away = 34 * pen.scale;
    label.low = {tip.x < middle ? tip.x - size.x - away : tip.x + away, tip.y - size.y / 2};
    return label;
}

void draw_bar(const Pen& pen, const ImVec2& a, const ImVec2& b, double newtons, double most, ImU32 ink) {
    const float run = std::hypot(b.x - a.x, b.y - a.y), head = 10 * pen.scale;
    if (run < 3 * head) return;  // seen along the link
    const ImVec2 along((b.x - a.x) / run, (b.y - a.y) / run), aside(-along.y, along.x);
    const auto at = [&](float by, float off = 0) {
        return ImVec2(a.x + along.x * by + aside.x * off, a.y + along.y * by + aside.y * off);
    };
    const auto share = static_cast<float>(std::abs(newtons) / most);
    const float width = (least_width + (most_width - least_width) * share) * pen.scale;
    if (newtons > 0) {
        pen.list.AddLine(at(head), at(run - head), ink, width);
        pen.arrow_head(at(head), at(-0.4F * head), ink);
        pen.arrow_head(at(run - head), at(run + 0.4F * head), ink);
        return;
    }
    for (const float side : {-0.5F, 0.5F})
        pen.list.AddLine(at(head, side * width), at(run - head, side * width), ink, 2 * pen.scale);
    pen.arrow_head(at(0), at(1.4F * head), ink);
    pen.arrow_head(at(run), at(run - 1.4F * head), ink);
}

}  // namespace

void draw_forces(const Pen& pen, const LoadMarks& loads, std::vector<Label>& labels) {
    double most = 1;  // newtons: where no link bears more, none is drawn wide
    for (const ForceMark& force : loads.forces) most = std::max(most, std::abs(force.newtons));
    const ImU32 ink = packed(pen.colours.accent);
    for (const ForceMark& force : loads.forces) {
        const auto a = pen.at(force.a), b = pen.at(force.b);
        if (!a || !b) continue;
        const auto [low, high] = moved_aside(pen, *a, *b);
        draw_bar(pen, low, high, force.newtons, most, ink);
        labels.push_back(label_at(pen, {(low.x + high.x) / 2, (low.y + high.y) / 2}, force.words, ink));
    }
    for (const MomentMark& moment : loads.moments)
        if (const auto at = pen.at(moment.at))
            labels.push_back(label_at(pen, *at, moment.words, packed(pen.colours.ink)));
}

}  // namespace swashwright::draw
