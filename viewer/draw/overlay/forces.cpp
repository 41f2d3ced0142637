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

Label label_of(const std::string& name, const std::string& words, const ImVec2& tip, ImU32 ink) {
    Label label;
    label.text = name.empty() ? words : name + '\n' + words;
    label.ink = ink;
    label.tip = tip;
    return label;
}

/// Those that find no place go.
void place_in_margins(const Pen& pen, const std::vector<SolidBox>& solids, std::vector<NameBox>& taken,
                      std::vector<Label>& labels) {
    if (labels.empty()) return;
    std::vector<NameBox> busy;
    for (const SolidBox& solid : solids) busy.push_back({solid.low, solid.high});
    std::vector<NameWanted> wanted;
    float height = 0;
    for (const Label& label : labels) {
        const ImVec2 size = pen.size_of(label);
        wanted.push_back({size.x, {label.tip.x, label.tip.y}});
        height = std::max(height, size.y);
    }
    const glm::vec2 low(pen.viewport.x, pen.viewport.y), size(pen.viewport.width, pen.viewport.height);
    std::vector<Label> kept;
    for (const NamePlaced& placed : place_names(wanted, {{low, low + size}, height, 4 * pen.scale, taken, busy})) {
        Label& label = kept.emplace_back(labels[placed.which]);
        label.low = {std::round(placed.box.low.x), std::round(placed.box.low.y)};
        taken.push_back(placed.box);
    }
    labels = std::move(kept);
}

}  // namespace

void draw_forces(const Pen& pen, const LoadMarks& loads, const std::vector<SolidBox>& solids,
                 std::vector<NameBox>& taken, std::vector<Label>& labels) {
    double most = 1;  // newtons: where no link bears more, none is drawn wide
    for (const ForceMark& force : loads.forces) most = std::max(most, std::abs(force.newtons));
    const ImU32 ink = packed(pen.colours.accent);
    std::vector<Label> words;
    for (const ForceMark& force : loads.forces) {
        const auto a = pen.at(force.a), b = pen.at(force.b);
        if (!a || !b) continue;
        const auto [low, high] = moved_aside(pen, *a, *b);
        draw_bar(pen, low, high, force.newtons, most, ink);
        words.push_back(label_of(force.name, force.words, {(low.x + high.x) / 2, (low.y + high.y) / 2}, ink));
    }
    for (const MomentMark& moment : loads.moments)
        if (const auto at = pen.at(moment.at))
            words.push_back(label_of(moment.name, moment.words, *at, packed(pen.colours.ink)));
    place_in_margins(pen, solids, taken, words);
    labels.insert(labels.end(), words.begin(), words.end());
}

}  // namespace swashwright::draw
