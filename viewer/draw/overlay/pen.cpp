#include "viewer/draw/overlay/pen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace swashwright::draw {
namespace {

constexpr float label_pad = 6;

}  // namespace

void Pen::arrow_head(const ImVec2& from, const ImVec2& tip, ImU32 ink) const {
    const float run = std::hypot(tip.x - from.x, tip.y - from.y);
    if (run < 1e-3F) return;
    const ImVec2 back((from.x - tip.x) / run, (from.y - tip.y) / run);
    const float length = 10 * scale, half = 2.9F * scale;
    list.AddTriangleFilled(tip, {tip.x + back.x * length - back.y * half, tip.y + back.y * length + back.x * half},
                           {tip.x + back.x * length + back.y * half, tip.y + back.y * length - back.x * half}, ink);
}

void Pen::leader(const ImVec2& from, const ImVec2& to, ImU32 ink, float width) const {
    if (!words) return list.AddLine(from, to, ink, width);
    // What is left of the way, in shares of it.
    std::vector<std::pair<float, float>> pieces{{0, 1}};
    const float room = 3 * scale, along[] = {to.x - from.x, to.y - from.y}, start[] = {from.x, from.y};
    for (const NameBox& box : *words) {
        const float low[] = {box.low.x - room, box.low.y - room}, high[] = {box.high.x + room, box.high.y + room};
        float enters = 0, leaves = 1;
        for (const int i : {0, 1}) {
            if (std::abs(along[i]) < 1e-3F) {
                if (start[i] < low[i] || start[i] > high[i]) leaves = -1;
                continue;
            }
            const float a = (low[i] - start[i]) / along[i], b = (high[i] - start[i]) / along[i];
            enters = std::max(enters, std::min(a, b));
            leaves = std::min(leaves, std::max(a, b));
        }
        if (enters >= leaves) continue;
        std::vector<std::pair<float, float>> left;
        for (const auto& [begin, end] : pieces) {
            if (begin < std::min(end, enters)) left.emplace_back(begin, std::min(end, enters));
            if (std::max(begin, leaves) < end) left.emplace_back(std::max(begin, leaves), end);
        }
        pieces = std::move(left);
    }
    for (const auto& [begin, end] : pieces)
        list.AddLine({from.x + begin * along[0], from.y + begin * along[1]},
                     {from.x + end * along[0], from.y + end * along[1]}, ink, width);
}

ImVec2 Pen::size_of(const Label& label) const {
    const ImVec2 text = ImGui::CalcTextSize(label.text.c_str());
    const float mark = label.number > 0 || label.trouble ? text.y + 4 * scale : 0;
    return {text.x + mark + 2 * label_pad * scale, text.y + label_pad * scale};
}

void Pen::draw(const Label& label) const {
    const ImVec2 size = size_of(label), high(label.low.x + size.x, label.low.y + size.y);
    // The leader starts at the nearest point of the label's lower or upper edge's end.
    const float from_x = label.tip.x < label.low.x ? label.low.x : std::min(label.tip.x, high.x);
    const float from_y = std::max(label.low.y, std::min(label.tip.y, high.y));
    leader({from_x, from_y}, label.tip, label.ink, 1.2F * scale);
    list.AddCircleFilled(label.tip, 2.2F * scale, label.ink);
    backing(label.low, high);
    if (label.trouble) list.AddRect(label.low, high, label.ink, 0, 0, 1.5F * scale);
    const float text_height = size.y - label_pad * scale, radius = text_height / 2;
    float x = label.low.x + label_pad * scale;
    const ImVec2 centre(x + radius, label.low.y + size.y / 2);
    if (label.number > 0) {
        list.AddCircleFilled(centre, radius, label.ink, 32);
        const std::string number = fmt::format("{}", label.number);
        const ImVec2 its = ImGui::CalcTextSize(number.c_str());
        list.AddText({std::round(centre.x - its.x / 2), std::round(centre.y - its.y / 2)}, packed(colours.paper),
                     number.c_str());
    }
    if (label.trouble) {  // a cross in a triangle: seen without its colour
        list.AddTriangle({centre.x, centre.y - radius}, {centre.x - radius, centre.y + 0.8F * radius},
                         {centre.x + radius, centre.y + 0.8F * radius}, label.ink, 1.6F * scale);
        const float arm = 0.26F * radius, low = centre.y + 0.28F * radius;
        list.AddLine({centre.x - arm, low - arm}, {centre.x + arm, low + arm}, label.ink, 1.8F * scale);
        list.AddLine({centre.x - arm, low + arm}, {centre.x + arm, low - arm}, label.ink, 1.8F * scale);
    }
    if (label.number > 0 || label.trouble) x += text_height + 4 * scale;
    list.AddText({std::round(x), std::round(label.low.y + label_pad * scale / 2)}, packed(colours.ink),
                 label.text.c_str());
}

}  // namespace swashwright::draw
