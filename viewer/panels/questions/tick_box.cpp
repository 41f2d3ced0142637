#include "viewer/panels/questions/tick_box.h"

#include <cmath>

#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

bool tick_box(Screen& screen, const std::string& id, const std::string& words, const char* tip_words, bool on,
              bool beside) {
    const Inks ink = screen.inks();
    const ImGuiStyle& style = ImGui::GetStyle();
    const float scale = screen.scale(), side = std::round(15 * scale), gap = 7 * scale;
    const ImVec2 size{side + gap + ImGui::CalcTextSize(words.c_str()).x, ImGui::GetFrameHeight()};
    const float right = ImGui::GetWindowPos().x + ImGui::GetContentRegionMax().x, between = 2 * style.ItemSpacing.x;
    if (beside && ImGui::GetItemRectMax().x + between + size.x <= right) ImGui::SameLine(0, between);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const bool pressed = ImGui::InvisibleButton(id.c_str(), size);
    key_stop(screen);
    screen.report.item(id);
    if (tip_words != nullptr) tip(screen, tip_words);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 low{at.x, std::round(at.y + (size.y - side) / 2)}, high{low.x + side, low.y + side};
    list.AddRectFilled(low, high, ImGui::IsItemHovered() ? ink.field : ink.panel);
    list.AddRect(low, high, ink.ink, 0, ImDrawFlags_None, 1.5F * scale);
    if (on) {
        const ImVec2 tick[3]{{low.x + 0.2F * side, low.y + 0.52F * side},
                             {low.x + 0.42F * side, low.y + 0.76F * side},
                             {low.x + 0.82F * side, low.y + 0.24F * side}};
        list.AddPolyline(tick, 3, ink.ink, ImDrawFlags_None, 2 * scale);
    }
    text_at(list, {high.x + gap, at.y + style.FramePadding.y}, ink.ink, words);
    return pressed;
}

}  // namespace swashwright::panels
