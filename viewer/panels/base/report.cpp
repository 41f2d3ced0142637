#include "viewer/panels/base/report.h"

#include <imgui_internal.h>

#include <algorithm>

namespace swashwright::panels {

void Report::item(std::string_view name) {
    if (!wanted()) return;
    if (framed_ != 0 && ImGui::GetItemID() == framed_) framed_name_ = name;
    if (!ImGui::IsItemVisible()) return;
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
    const ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 clip_low = list.GetClipRectMin(), clip_high = list.GetClipRectMax();
    rectangle(name, {std::max(low.x, clip_low.x), std::max(low.y, clip_low.y)},
              {std::min(high.x, clip_high.x), std::min(high.y, clip_high.y)});
}

void Report::rectangle(std::string_view name, ImVec2 top_left, ImVec2 bottom_right) {
    if (!wanted()) return;
    widgets_.insert_or_assign(std::string(name), ImVec4(top_left.x, top_left.y, bottom_right.x, bottom_right.y));
}

}  // namespace swashwright::panels
