#include "viewer/panels/picture/pointing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "viewer/panels/base/widgets.h"
#include "viewer/panels/ledger/part_facts.h"

namespace swashwright::panels {

namespace {

constexpr double rest_seconds = 0.15;  // a pointer that only passes lights nothing

ImVec2 size_of(const Facts& facts, float gap) {
    float width = ImGui::CalcTextSize(facts.name.c_str()).x;
    for (const Fact& fact : facts.facts)
        width =
            std::max(width, ImGui::CalcTextSize(fact.what.c_str()).x + gap + ImGui::CalcTextSize(fact.value.c_str()).x);
    return {std::ceil(width), ImGui::GetTextLineHeight() * static_cast<float>(1 + facts.facts.size())};
}

/// Right of the pointer and below it where there is room, else on the other side; never off the picture.
ImVec2 beside(const ImVec2& pointer, const ImVec2& size, const Rect& picture, float scale) {
    const float off = 18 * scale, edge = 4 * scale;
    ImVec2 low{pointer.x + off, pointer.y + off};
    if (low.x + size.x > picture.right() - edge) low.x = pointer.x - off - size.x;
    if (low.y + size.y > picture.bottom() - edge) low.y = pointer.y - off - size.y;
    return {std::round(std::max(picture.x + edge, low.x)), std::round(std::max(picture.y + edge, low.y))};
}

std::string words(const Facts& facts) {
    std::string text = facts.name;
    for (const Fact& fact : facts.facts) text += fmt::format("; {} {}", fact.what, fact.value);
    return text;
}

}  // namespace

std::optional<draw::Part> pointed_at(const Screen& screen, const Sights& sights) {
    const Pointing& pointing = sights.pointing;
    return pointing.at && screen.clock - pointing.since >= rest_seconds ? pointing.part : std::nullopt;
}

void follow_pointer(Screen& screen, const View& view, Sights& sights, const Rect& picture) {
    Pointing& pointing = sights.pointing;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    if (ImGui::IsItemHovered() && !ImGui::IsAnyMouseDown() && !view.move) {
        pointing.at = ImVec2(mouse.x - picture.x, mouse.y - picture.y);
    } else {
        pointing.at.reset();
        pointing.part.reset();
        pointing.place.reset();
    }
    if (pointing.part && !pointed_at(screen, sights)) screen.frame_wanted = true;  // another frame, when it has rested
}

void draw_note(Screen& screen, const Bench& bench, Sights& sights, const Rect& picture) {
    Pointing& pointing = sights.pointing;
    pointing.note.clear();
    const auto part = pointed_at(screen, sights);
    if (!part || !bench.live().shown) return;
    const head::Description& d = bench.live().shown->description;
    const Facts facts = facts_of(*part, pointing.ball, d, bench.live().shown->pose, screen.settings.inches);
    pointing.note = words(facts);

    const Inks ink = screen.inks();
    const float scale = screen.scale(), pad = 9 * scale, gap = 18 * scale, line = ImGui::GetTextLineHeight();
    const ImVec2 text = size_of(facts, gap), size{text.x + 2 * pad, text.y + 1.4F * pad};
    const ImVec2 low = beside({picture.x + pointing.at->x, picture.y + pointing.at->y}, size, picture, scale);
    const ImVec2 high{low.x + size.x, low.y + size.y};
    ImDrawList& list = *ImGui::GetForegroundDrawList();  // over the buttons of the chosen part
    list.AddRectFilled(low, high, ink.panel);
    list.AddRect(low, high, ink.ink);
    float y = low.y + 0.7F * pad;
    text_at(list, {low.x + pad, y}, ink.ink, facts.name);
    for (const Fact& fact : facts.facts) {
        y += line;
        text_at(list, {low.x + pad, y}, ink.soft, fact.what);
        text_at(list, {high.x - pad - ImGui::CalcTextSize(fact.value.c_str()).x, y}, ink.ink, fact.value);
    }
    screen.report.rectangle("note", low, high);
}

}  // namespace swashwright::panels
