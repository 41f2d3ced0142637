#include "viewer/panels/picture/floating.h"

#include <cmath>

namespace swashwright::panels {

void begin_floating(const Screen& screen, const char* name, ImVec2 at, ImVec2 pivot, ImVec2 most) {
    const Inks ink = screen.inks();
    ImGui::SetNextWindowPos({std::round(at.x), std::round(at.y)}, ImGuiCond_Always, pivot);
    if (most.x > 0) ImGui::SetNextWindowSizeConstraints({most.x, 0}, most);
    ImGui::PushStyleColor(ImGuiCol_WindowBg, ink.panel);
    ImGui::PushStyleColor(ImGuiCol_Border, ink.rule);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(8 * screen.scale(), 5 * screen.scale()));
    ImGui::Begin(name, nullptr,
                 (most.x > 0 ? ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoCollapse
                             : ImGuiWindowFlags_NoDecoration) |
                     ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_AlwaysAutoResize |
                     ImGuiWindowFlags_NoFocusOnAppearing);
    ImGui::PopStyleVar(2);
    ImGui::PopStyleColor(2);
}

ImVec2 end_floating() {
    const ImVec2 size = ImGui::GetWindowSize();
    ImGui::End();
    return size;
}

}  // namespace swashwright::panels
