#include "viewer/panels/lessons/lesson_rows.h"

#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

void draw_mark(ImDrawList& list, ImVec2 centre, Mark mark, ImU32 colour, float scale) {
    const float r = 6 * scale, thick = 2 * scale;
    if (mark == Mark::tick) {
        list.AddLine({centre.x - r, centre.y}, {centre.x - r / 3, centre.y + r * 0.7F}, colour, thick);
        list.AddLine({centre.x - r / 3, centre.y + r * 0.7F}, {centre.x + r, centre.y - r * 0.8F}, colour, thick);
    } else if (mark == Mark::cross) {
        list.AddLine({centre.x - r, centre.y - r}, {centre.x + r, centre.y + r}, colour, thick);
        list.AddLine({centre.x - r, centre.y + r}, {centre.x + r, centre.y - r}, colour, thick);
    }
}

bool row_button(Screen& screen, const std::string& id, const std::string& words, Mark mark) {
    const Inks ink = screen.inks();
    const float scale = screen.scale(), indent = 30 * scale, pad = 5 * scale;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const std::string text = wrapped(words, width - indent - pad);
    const float height = ImGui::CalcTextSize(text.c_str()).y + 2 * pad;
    const bool pressed = ImGui::InvisibleButton(id.c_str(), {width, height});
    key_stop(screen, Keyboard::Kind::row, ImGui::GetID("rows"));
    screen.report.item(id);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (ImGui::IsItemHovered()) list.AddRectFilled(at, {at.x + width, at.y + height}, ink.field);
    const ImVec2 centre{at.x + 14 * scale, at.y + height / 2};
    if (mark == Mark::none) list.AddCircle(centre, 6 * scale, ink.soft, 0, 1.5F * scale);
    draw_mark(list, centre, mark, ink.ink, scale);
    text_at(list, {at.x + indent, at.y + pad}, ink.ink, text);
    return pressed;
}

}  // namespace swashwright::panels
